package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.NodeId;
import tappet.sentence.Command.Heading;

/** The boards behave on the bus as the standards ask of every node. */
class BoardTest {

  private static final TrackPlan PLAN =
      SmallPlan.junction()
          .board(1)
          .joint("far-end", 32, 2)
          .section("far", "main-end", "far-end", 2)
          .plan();
  private static final Switch T = PLAN.layout().switches().get("t");
  private static final Section WEST = PLAN.layout().sections().get("west");
  private static final NodeId BOARD = WEST.occupied().allocatedBy();

  private final Bench bench = Bench.ready(PLAN, train("Extra 41", "west", Heading.EAST, 0.5));

  @Test
  void everyNodePrefixOfTheLayoutIsABoard() {
    assertEquals(
        List.of(NodeId.of("0A.57.00.00.0B.00"), NodeId.of("0A.57.00.00.0B.01")),
        bench.railway.boards());
  }

  @Test
  void boardsReserveTheirAliasesAndAnnounceAllTheirEvents() {
    // S-9.7.2.1 §6.2.1, §6.2.2; S-9.7.3 §3.2; S-9.7.3.1 §6
    var starting = Bench.starting(PLAN);
    starting.passMs(190);
    assertEquals(Set.of("CheckId"), kinds(starting.said()));
    starting.passMs(1_000);
    List<Message> said = starting.said();
    assertEquals(
        Set.of(
            "ReserveId",
            "AliasMapDefinition",
            "InitializationComplete",
            "ProducerIdentified",
            "ConsumerIdentified"),
        kinds(said));
    assertEquals(12, count(said, Message.ProducerIdentified.class)); // 5 sections, 1 switch
    assertEquals(14, count(said, Message.ConsumerIdentified.class)); // 1 switch, 3 signals of 4
    assertEquals(2, said.stream().map(Message::source).distinct().count());
  }

  @Test
  void identifyProducerIsAnsweredRightBeforeDuringAndAfterAMove() {
    // S-9.7.3.1 §4.6: valid where the state is the event's, invalid where it is known not to be.
    assertContacts("VALID", "INVALID");
    bench.call("t", Position.REVERSE);
    assertContacts("INVALID", "INVALID");
    bench.passMs(1_480);
    assertContacts("INVALID", "INVALID");
    bench.passMs(40);
    assertContacts("INVALID", "VALID");
  }

  private void assertContacts(String normal, String reverse) {
    assertEquals(normal, bench.producerSays(T.at().get(Position.NORMAL)));
    assertEquals(reverse, bench.producerSays(T.at().get(Position.REVERSE)));
  }

  @Test
  void switchReportsNothingWhileMovingAndItsPositionAtTheEnd() {
    bench.call("t", Position.REVERSE);
    bench.passMs(1_490);
    assertEquals(List.of(), bench.told());
    bench.passMs(10);
    assertEquals(List.of("t reverse"), bench.told());
  }

  @Test
  void consumerStandsAsIfTheLastEventItHeardWereTheLast() {
    // S-9.7.3.1 §4.3
    bench.call("t", Position.REVERSE);
    bench.show("e", "clear");
    Map<String, EventId> shows = PLAN.layout().signals().get("e").shows();
    assertEquals("VALID", bench.consumerSays(T.to().get(Position.REVERSE)));
    assertEquals("INVALID", bench.consumerSays(T.to().get(Position.NORMAL)));
    assertEquals("VALID", bench.consumerSays(shows.get("clear")));
    assertEquals("INVALID", bench.consumerSays(shows.get("stop")));
  }

  @Test
  void signalShowsStopUntilTold() {
    assertEquals("stop", bench.railway.aspect("e"));
    bench.show("e", "clear");
    assertEquals("clear", bench.railway.aspect("e"));
    assertEquals("stop", bench.railway.aspect("w1"));
  }

  @Test
  void eventOfNoBoardIsMetWithSilence() {
    // S-9.7.3.1 §6.3
    assertEquals("silence", bench.producerSays(EventId.of("0A.57.00.00.0B.00.77.77")));
  }

  @Test
  void boardThatCameOnTheBusTellsHowItsSectionsStand() {
    assertEquals("VALID", bench.producerSays(WEST.occupied()));
    assertEquals("INVALID", bench.producerSays(WEST.clear()));
  }

  @Test
  void boardsHearEachOtherButNotThemselves() {
    // The rest of the bus hears each frame of a board once.
    var starting = Bench.starting(PLAN);
    starting.passMs(1_000);
    List<Message> said = starting.said();
    assertEquals(said.size(), said.stream().distinct().count());
    assertEquals(8, count(said, Message.CheckId.class));
  }

  @Test
  void silencedBoardNeitherSpeaksNorHearsAndItsOutputsStay() {
    bench.show("e", "clear");
    bench.railway.silence(BOARD);
    assertFalse(bench.railway.isReady(BOARD));
    bench.call("t", Position.REVERSE);
    bench.railway.lift("Extra 41");
    bench.passMs(5_000);
    assertEquals(List.of(), bench.said());
    assertEquals("silence", bench.producerSays(WEST.occupied()));
    assertEquals("clear", bench.railway.aspect("e"));
    assertTrue(bench.railway.lies("t").filter(Position.NORMAL::equals).isPresent());
  }

  @Test
  void restoredBoardBeginsAnewAndTellsWhatItMissedToTell() {
    bench.railway.silence(BOARD);
    bench.railway.lift("Extra 41");
    bench.passMs(5_000);
    bench.said();
    bench.railway.restore(BOARD);
    bench.passMs(1_000);
    List<Message> said = bench.said();
    assertEquals(4, count(said, Message.CheckId.class));
    assertEquals(1, count(said, Message.InitializationComplete.class));
    assertEquals(1, count(said, Message.EventReport.class));
    assertEquals("VALID", bench.producerSays(WEST.clear()));
  }

  @Test
  void forcedDetectorTellsWhatItIsForcedTo() {
    bench.railway.forceSection("west", false);
    bench.railway.forceSection("main", true);
    assertEquals(List.of("west clear", "main occupied"), bench.told());
    bench.railway.unforce("west");
    bench.railway.unforce("main");
    assertEquals(List.of("west occupied", "main clear"), bench.told());
  }

  @Test
  void failedSwitchNeverReports() {
    bench.railway.failSwitch("t");
    bench.call("t", Position.REVERSE);
    bench.passMs(10_000);
    assertEquals(List.of(), bench.told());
    bench.railway.mendSwitch("t");
    bench.passMs(1_500);
    assertEquals(List.of("t reverse"), bench.told());
  }

  @Test
  void sameRunTwiceGivesTheSameFrames() {
    assertEquals(framesOfARun(), framesOfARun());
    assertTrue(framesOfARun().size() > 40);
  }

  private static List<Object> framesOfARun() {
    var bench = Bench.starting(PLAN, train("Extra 41", "west", Heading.EAST, 0.5));
    bench.passMs(777);
    bench.call("t", Position.REVERSE);
    bench.run("Extra 41");
    bench.passMs(3_333);
    bench.show("e", "diverging-clear");
    bench.passMs(60_000);
    return List.copyOf(bench.frames);
  }

  private static Set<String> kinds(List<Message> said) {
    return said.stream()
        .map(message -> message.getClass().getSimpleName())
        .collect(Collectors.toSet());
  }

  private static long count(List<Message> said, Class<? extends Message> kind) {
    return said.stream().filter(kind::isInstance).count();
  }
}
