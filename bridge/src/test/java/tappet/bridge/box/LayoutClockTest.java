package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.interlocking.Answer;
import tappet.layout.Signal;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockReading;
import tappet.sentence.ClockTexts;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** The box and another node with a clock, on one bus and on virtual time. */
class LayoutClockTest {

  private static final String CABLE = "the cable";
  private static final String HOURS =
      "\nalso:\n  - {signal: f2e, needs: time is between 06:00 and 22:00}\n";
  private static final NodeId OTHER = NodeId.of("0A.57.00.00.00.99");
  private static final ClockPlan FOLLOW = new ClockPlan.Follow(FastClock.FAST);
  private static final LocalDateTime DAY = LocalDateTime.of(2000, 1, 1, 0, 0);

  private final Deque<Runnable> underWay = new ArrayDeque<>();
  private final List<String> told = new ArrayList<>();
  private final List<Message> said = new ArrayList<>();
  private SignalBox box;
  private Optional<ClockNode> other = Optional.empty();
  private long nowNs;

  // S-9.7.4.5 §6.3: the state is told at the start; a follower has the time from that.
  @Test
  void anotherNodeFollowsTheGeneratedClockWithinASecond() {
    other = Optional.of(ClockNode.follower(OTHER, this::toBox));
    start(running("06:00", 2));
    pass(Duration.ofSeconds(1));
    assertEquals("06:00", clockOf(other.orElseThrow()));
    pass(Duration.ofMinutes(5));
    assertEquals("06:10", clockOf(other.orElseThrow()));
    assertEquals(new Rate(8), other.orElseThrow().reading().orElseThrow().rate());
    assertTrue(why().startsWith("the fast clock shows 06:10 and runs at 2:1:"), why());
    assertTrue(why().endsWith("  Tappet generates it\n"), why());
  }

  // S-9.7.4.5 §6.1: both ranges are identified before the synchronization sequence.
  @Test
  void rangesAreAnnouncedBeforeTheTimeIsTold() {
    start(running("06:00", 2));
    pass(Duration.ofSeconds(1));
    int produced = first(Message.ProducerRangeIdentified.class);
    int consumed = first(Message.ConsumerRangeIdentified.class);
    int time = said.indexOf(identified(new ClockEvent.Report(new Time(6, 0))));
    assertTrue(0 <= produced && produced < time, said::toString);
    assertTrue(0 <= consumed && consumed < time, said::toString);
  }

  private int first(Class<? extends Message> kind) {
    return said.stream().map(Message::getClass).toList().indexOf(kind);
  }

  private Message identified(ClockEvent event) {
    int alias = said.get(said.size() - 1).source();
    return new Message.ProducerIdentified(alias, ClockNode.CLOCK.event(event), Validity.VALID);
  }

  // S-9.7.4.5 §6.5: anybody may set, start and stop the clock by events.
  @Test
  void eventsOfOthersSetTheGeneratedClock() {
    other = Optional.of(ClockNode.follower(OTHER, this::toBox));
    start(running("06:00", 2));
    pass(Duration.ofSeconds(1));
    other.orElseThrow().report(new ClockEvent.Set(new Time(21, 58)));
    other.orElseThrow().report(new ClockEvent.Set(new Rate(16)));
    pass(Duration.ofSeconds(1));
    assertTrue(why().startsWith("the fast clock shows 21:58 and runs at 4:1"), why());
    other.orElseThrow().report(Order.STOP);
    pass(Duration.ofMinutes(2));
    assertTrue(why().startsWith("the fast clock stands at 21:58; its rate is 4:1"), why());
  }

  @Test
  void peopleSetTheGeneratedClockAndOthersFollow() {
    other = Optional.of(ClockNode.follower(OTHER, this::toBox));
    start(running("06:00", 2));
    pass(Duration.ofSeconds(1));
    assertTrue(tell("set clock to 12:30").granted());
    assertTrue(tell("set clock rate to 4").granted());
    pass(Duration.ofSeconds(30));
    assertEquals("12:32", clockOf(other.orElseThrow()));
    assertEquals(
        "the fast clock stands at 12:32; its rate is 4:1:\n  Tappet generates it\n",
        tell("stop clock").explanation().text());
    pass(Duration.ofSeconds(1));
    assertFalse(other.orElseThrow().reading().orElseThrow().running(), "told at once");
    assertTrue(tell("start clock").granted());
    pass(Duration.ofSeconds(30));
    assertEquals("12:34", clockOf(other.orElseThrow()));
  }

  @Test
  void signalDropsAtClosingTime() {
    start(running("21:59", 2));
    makeReady();
    assertTrue(tell("line f2e to t2e").granted());
    assertEquals("approach", box.interlocking().aspect("f2e"));
    pass(Duration.ofSeconds(17));
    assertEquals("approach", box.interlocking().aspect("f2e"), why());
    pass(Duration.ofSeconds(2));
    assertEquals(Signal.STOP, box.interlocking().aspect("f2e"), why());
  }

  @Test
  void hoursAreToldButNotMinutes() {
    start(running("21:00", 60));
    pass(Duration.ofSeconds(121));
    assertEquals(
        List.of(
            "the fast clock shows 21:00 and runs at 60:1",
            "the fast clock shows 22:00 and runs at 60:1",
            "the fast clock shows 23:00 and runs at 60:1"),
        ofTheClock());
  }

  // S-9.7.4.5 §4.4: a negative rate runs backwards.
  @Test
  void clockThatRunsBackwardsOpensAtTheMinuteItReaches() {
    start(new ClockPlan.Run(FastClock.FAST, new Rate(-240), new Time(22, 1)));
    pass(Duration.ofSeconds(2));
    assertTrue(why().startsWith("the fast clock shows 21:59 and runs at -60:1"), why());
  }

  // S-9.7.4.5 §6: a clock has one generator.
  @Test
  void anotherGeneratorOfTheSameClockRaisesAnAlarmWhileItSpeaks() {
    other = Optional.of(generator("09:00", true));
    start(running("06:00", 2));
    pass(Duration.ofSeconds(5));
    assertEquals(
        List.of(
            "node 0A.57.00.00.00.99 generates the fast clock, as Tappet does: let one of them"
                + " follow the other"),
        box.alarms());
    other = Optional.empty();
    pass(Duration.ofSeconds(190));
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void followedClockIsUnknownUntilItIsHeard() {
    start(FOLLOW);
    makeReady();
    assertFalse(tell("line f2e to t2e").granted());
    assertEquals(
        """
        the fast clock is not known:
          no node that generates it has been heard; is one on the bus and switched on?
        """,
        why());
    assertEquals(why(), tell("start clock").explanation().text());
    assertEquals(List.of("the fast clock is not heard: its time is unknown"), box.alarms());

    other = Optional.of(generator("09:00", true));
    other.orElseThrow().start(nowNs);
    pass(Duration.ofSeconds(11));
    assertEquals(
        "the fast clock shows 09:00 and runs at 2:1:\n  node 0A.57.00.00.00.99 generates it\n",
        why());
    assertEquals(List.of(), box.alarms());
    assertTrue(tell("line f2e to t2e").granted());
  }

  @Test
  void followedClockIsSetByItsGenerator() {
    other = Optional.of(generator("09:00", true));
    start(FOLLOW);
    pass(Duration.ofSeconds(1));
    assertEquals(
        "node 0A.57.00.00.00.99 was asked to: it generates the fast clock\n",
        tell("set clock to 12:00").explanation().text());
    pass(Duration.ofSeconds(1));
    assertEquals("12:00", clockOf(other.orElseThrow()));
    assertTrue(why().startsWith("the fast clock shows 12:00"), why());
    assertTrue(tell("stop clock").granted());
    carry();
    assertFalse(other.orElseThrow().reading().orElseThrow().running());
    assertTrue(why().startsWith("the fast clock stands at 12:00"), why());
  }

  // 49 CFR 236.5: what is not known is not safe.
  @Test
  void followedClockThatFallsSilentIsUnknownAndItsSignalsDrop() {
    other = Optional.of(generator("09:00", true));
    start(FOLLOW);
    makeReady();
    assertTrue(tell("line f2e to t2e").granted());
    other = Optional.empty();
    pass(Duration.ofSeconds(100));
    said.clear();
    pass(Duration.ofSeconds(15));
    assertEquals(1, said.stream().filter(this::asksForTheTime).count());
    assertEquals("approach", box.interlocking().aspect("f2e"), "it has time to answer");
    pass(Duration.ofSeconds(5));
    assertEquals(Signal.STOP, box.interlocking().aspect("f2e"));
    assertEquals(List.of("the fast clock is not heard: its time is unknown"), box.alarms());
  }

  // S-9.7.4.5 §6.4: a clock that stands says nothing by itself, but answers.
  @Test
  void followedClockThatStandsIsKnownAsLongAsItAnswers() {
    other = Optional.of(generator("09:00", false));
    start(FOLLOW);
    pass(Duration.ofMinutes(30));
    assertTrue(why().startsWith("the fast clock stands at 09:00; its rate is 2:1"), why());
    assertEquals(List.of(), box.alarms());
  }

  @Test
  void followedClockIsUnknownWhenTheWayToItIsLost() {
    other = Optional.of(generator("09:00", true));
    start(FOLLOW);
    pass(Duration.ofSeconds(1));
    box.connectionDown("another cable", "has left", false, nowNs);
    assertTrue(why().startsWith("the fast clock shows 09:00"), why());
    box.connectionDown(CABLE, "has left", false, nowNs);
    assertTrue(why().startsWith("the fast clock is not known"), why());
    pass(Duration.ofSeconds(1));
    assertTrue(why().startsWith("the fast clock shows 09:00"), why());
    box.inputLost(nowNs);
    assertTrue(why().startsWith("the fast clock is not known"), why());
  }

  @Test
  void layoutWithoutAClockSaysHowToHaveOne() {
    start(new ClockPlan.None());
    assertEquals(
        """
        this layout has no clock:
          the settings have none; add for example 'clock: {mode: run, rate: 2, time: 06:00}'
        """,
        tell("set clock to 06:00").explanation().text());
    assertEquals(why(), tell("stop clock").explanation().text());
    assertFalse(box.names().contains("clock"));
    pass(Duration.ofSeconds(1));
    assertEquals(-1, first(Message.ConsumerRangeIdentified.class));
  }

  private static ClockPlan running(String time, int rate) {
    Time beginning = ClockTexts.time(time).orElseThrow();
    return new ClockPlan.Run(FastClock.FAST, new Rate(4 * rate), beginning);
  }

  private ClockNode generator(String time, boolean running) {
    LocalDateTime beginning = DAY.with(LocalTime.parse(time));
    var reading = new ClockReading(beginning, new Rate(8), running);
    return ClockNode.generator(OTHER, reading, this::toBox);
  }

  private void start(ClockPlan plan) {
    box =
        new SignalBox(
            DemoField.DAEMON,
            DemoField.interlocking(HOURS),
            this::fromBox,
            new BoxListener() {
              @Override
              public void changed(String what) {
                told.add(what);
              }
            },
            Outfit.forgetful(DemoField.DAEMON, plan));
    box.start(nowNs);
    box.connectionUp(CABLE, true, nowNs);
    other.ifPresent(node -> node.start(nowNs));
    carry();
  }

  /** Everything is clear and the time since the start has run. */
  private void makeReady() {
    pass(Duration.ofSeconds(1));
    DemoField.allClear().forEach(frame -> box.frameArrived(CABLE, frame, nowNs));
    pass(Duration.ofSeconds(11));
  }

  private void fromBox(CanFrame frame) {
    said.add(Messages.decode(frame));
    underWay.add(() -> other.ifPresent(node -> node.receive(frame, nowNs)));
  }

  private void toBox(CanFrame frame) {
    underWay.add(() -> box.frameArrived(CABLE, frame, nowNs));
  }

  private void carry() {
    for (Runnable next = underWay.poll(); next != null; next = underWay.poll()) {
      next.run();
    }
  }

  private void pass(Duration time) {
    carry();
    long endNs = nowNs + time.toNanos();
    while (nowNs < endNs) {
      nowNs = Math.min(endNs, Math.max(nowNs + 1, nextNs(endNs)));
      box.advance(nowNs);
      other.ifPresent(node -> node.advance(nowNs));
      carry();
    }
  }

  private long nextNs(long endNs) {
    long ofOther = other.map(node -> node.deadlineNs().orElse(endNs)).orElse(endNs);
    return LongStream.of(box.deadlineNs().orElse(endNs), ofOther).min().orElseThrow();
  }

  private Answer tell(String sentence) {
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    Answer answer = box.tell(command, nowNs);
    carry();
    return answer;
  }

  private String why() {
    return box.why("clock", nowNs).orElseThrow().text();
  }

  private List<String> ofTheClock() {
    return told.stream().filter(line -> line.startsWith("the fast clock")).toList();
  }

  private static String clockOf(ClockNode node) {
    return node.time().toLocalTime().withSecond(0).withNano(0).toString();
  }

  private boolean asksForTheTime(Message message) {
    return message instanceof Message.EventReport report
        && report.event().equals(ClockNode.CLOCK.event(Order.QUERY));
  }
}
