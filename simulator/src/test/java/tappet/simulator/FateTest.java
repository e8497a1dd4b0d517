package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** What befalls the railway, as the rest of the bus hears of it. */
class FateTest {

  private static final long MS = 1_000_000;
  private static final int ME = 0xEEE;
  private static final NodeId TILLING = NodeId.of("0A.57.00.00.02.00");

  private Layout layout;
  private Railway railway;
  private final List<CanFrame> frames = new ArrayList<>();
  private long nowNs;

  @BeforeEach
  void switchOn() throws IOException {
    Path file = Path.of("..", "config", "demo", "layout.yaml");
    layout = LayoutReader.read("l", Files.readString(file), new Problems()).orElseThrow();
    railway = new Railway(new TrackPlan(layout), List.of(), frames::add);
    railway.start(nowNs);
    passMs(2_000);
  }

  @Test
  void detectorReportsWhatItIsMadeTo() {
    var section = layout.sections().get("tilling-w");
    happen("section tilling-w reports occupied");
    assertEquals(List.of(section.occupied()), reported());
    assertEquals(Validity.VALID, asked(section.occupied()));
    assertEquals(Validity.INVALID, asked(section.clear()));
    happen("section tilling-w reports nothing");
    assertEquals(List.of(), reported());
    assertEquals(Validity.INVALID, asked(section.occupied()));
    assertEquals(Validity.INVALID, asked(section.clear()));
    happen("section tilling-w reports the truth");
    assertEquals(List.of(section.clear()), reported());
    assertEquals(Validity.VALID, asked(section.clear()));
  }

  @Test
  void whatReallyHappensIsNotToldMeanwhile() {
    happen("switch t1 reports nothing");
    railway.throwByHand("t1", Position.REVERSE);
    assertEquals(List.of(), reported());
    happen("switch t1 reports the truth");
    assertEquals(List.of(layout.switches().get("t1").at().get(Position.REVERSE)), reported());
  }

  @Test
  void bothContactsCanBeClosed() {
    var at = layout.switches().get("t1").at();
    happen("switch t1 reports both");
    assertEquals(List.copyOf(at.values()), reported());
    assertEquals(Validity.VALID, asked(at.get(Position.NORMAL)));
    assertEquals(Validity.VALID, asked(at.get(Position.REVERSE)));
  }

  @Test
  void motorTakesItsTime() {
    happen("motor of t1 takes 6 s");
    call("t1", Position.REVERSE);
    passMs(5_990);
    assertEquals(Optional.empty(), railway.lies("t1"));
    passMs(20);
    assertEquals(Optional.of(Position.REVERSE), railway.lies("t1"));
    happen("motor of t1 is mended");
    call("t1", Position.NORMAL);
    passMs(1_510);
    assertEquals(Optional.of(Position.NORMAL), railway.lies("t1"));
  }

  /** Half of the way stays half of the way. */
  @Test
  void motorThatSlowsDownOnItsWayHasItsRestToGo() {
    call("t1", Position.REVERSE);
    passMs(750);
    happen("motor of t1 takes 6 s");
    passMs(2_990);
    assertEquals(Optional.empty(), railway.lies("t1"));
    passMs(20);
    assertEquals(Optional.of(Position.REVERSE), railway.lies("t1"));
  }

  @Test
  void motorThatSticksStaysWhereItIs() {
    happen("motor of t1 sticks");
    call("t1", Position.REVERSE);
    passMs(60_000);
    assertEquals(Optional.of(Position.NORMAL), railway.lies("t1"));
    happen("motor of t1 is mended");
    passMs(1_510);
    assertEquals(Optional.of(Position.REVERSE), railway.lies("t1"));
  }

  @Test
  void eventIsLostOnce() {
    happen("board tilling loses its next event");
    railway.throwByHand("t1", Position.REVERSE);
    railway.throwByHand("t1", Position.NORMAL);
    assertEquals(List.of(layout.switches().get("t1").at().get(Position.NORMAL)), reported());
  }

  @Test
  void eventComesTwiceOnce() {
    EventId reverse = layout.switches().get("t1").at().get(Position.REVERSE);
    EventId normal = layout.switches().get("t1").at().get(Position.NORMAL);
    happen("board tilling repeats its next event");
    railway.throwByHand("t1", Position.REVERSE);
    railway.throwByHand("t1", Position.NORMAL);
    assertEquals(List.of(reverse, reverse, normal), reported());
  }

  @Test
  void eventIsMissedOnce() {
    happen("board tilling misses its next event");
    call("t1", Position.REVERSE);
    passMs(2_000);
    assertEquals(Optional.of(Position.NORMAL), railway.lies("t1"));
    call("t1", Position.REVERSE);
    passMs(2_000);
    assertEquals(Optional.of(Position.REVERSE), railway.lies("t1"));
  }

  @Test
  void eventsComeLateInTheirOrder() {
    EventId reverse = layout.switches().get("t1").at().get(Position.REVERSE);
    EventId normal = layout.switches().get("t1").at().get(Position.NORMAL);
    happen("board tilling is late by 800 ms");
    railway.throwByHand("t1", Position.REVERSE);
    railway.throwByHand("t1", Position.NORMAL);
    passMs(790);
    assertEquals(List.of(), reported());
    passMs(20);
    assertEquals(List.of(reverse, normal), reported());
  }

  // S-9.7.2.1 §6.2.5: a node that hears its alias from another gives it up and reserves one anew.
  @Test
  void boardWhoseAliasClashesTakesAnother() {
    happen("alias of tilling clashes");
    assertFalse(railway.isReady(TILLING));
    passMs(1_000);
    assertTrue(railway.isReady(TILLING));
  }

  @Test
  void boardThatRebootsIsAwayForAMoment() {
    happen("board tilling reboots");
    assertFalse(railway.isReady(TILLING));
    passMs(1_000);
    assertTrue(railway.isReady(TILLING));
  }

  @Test
  void silentBoardSaysNothingUntilItSpeaksAgain() {
    happen("board tilling falls silent");
    happen("section tilling-w reports occupied");
    passMs(5_000);
    assertEquals(List.of(), reported());
    happen("board tilling speaks again");
    passMs(1_000);
    assertEquals(List.of(layout.sections().get("tilling-w").occupied()), reported());
  }

  @Test
  void detectorThatFlickersLosesWhatStandsThereForASecondInTwo() {
    var section = layout.sections().get("tilling-main");
    railway.place(new TrainSpec("Railcar", "tilling-main", Command.Heading.EAST, 0.2, 0.3));
    reported();
    happen("section tilling-main flickers");
    assertEquals(List.of(section.clear()), reported());
    passMs(990);
    assertEquals(List.of(), reported());
    passMs(20);
    assertEquals(List.of(section.occupied()), reported());
    passMs(1_000);
    assertEquals(List.of(section.clear()), reported());
    happen("section tilling-main reports the truth");
    assertTrue(reported().contains(section.occupied()));
    passMs(10_000);
    assertEquals(List.of(), reported());
  }

  @Test
  void detectorThatFlickersWithNothingThereTellsNothing() {
    happen("section tilling-main flickers");
    passMs(10_000);
    assertEquals(List.of(), reported());
  }

  // S-9.7.0.4 §5.2: power supply brownout, below the minimum required by the node.
  @Test
  void boardThatBrownsOutSaysSoAndNothingMore() {
    happen("board tilling browns out");
    assertEquals(List.of(EventId.of("01.00.00.00.00.00.FF.F1")), reported());
    assertFalse(railway.isReady(TILLING));
    happen("section tilling-w reports occupied");
    passMs(5_000);
    assertEquals(List.of(), reported());
    happen("board tilling reboots");
    passMs(1_000);
    assertTrue(railway.isReady(TILLING));
    assertEquals(List.of(layout.sections().get("tilling-w").occupied()), reported());
  }

  @Test
  void outputsOfABoardThatBrownsOutDroop() {
    show("t2e", "approach");
    show("f2e", "approach");
    call("t1", Position.REVERSE);
    passMs(500);
    happen("board tilling browns out");
    assertEquals("dark", railway.aspect("t2e"));
    assertEquals("approach", railway.aspect("f2e"), "another board's");
    passMs(10_000);
    assertEquals(Optional.empty(), railway.lies("t1"));
    happen("board tilling reboots");
    passMs(10_000);
    assertEquals("dark", railway.aspect("t2e"));
    call("t1", Position.NORMAL);
    passMs(510);
    assertEquals(Optional.of(Position.NORMAL), railway.lies("t1"));
  }

  @Test
  void boltOfABoardThatBrownsOutStopsAndItsLockFallsHome() {
    send(new Message.EventReport(ME, EventId.of("0A.57.00.00.01.00.83.01"), false));
    happen("crew breaks lock of q1");
    passMs(500);
    happen("board fallow browns out");
    happen("board midway browns out");
    passMs(10_000);
    assertEquals(Optional.empty(), railway.boltLies("doorway"));
    assertTrue(railway.isSecured("q1"));
  }

  @Test
  void crossingWhoseBoardBrownsOutWarns() {
    send(new Message.EventReport(ME, EventId.of("0A.57.00.00.03.00.91.00"), false));
    assertFalse(railway.isWarning("mill-road-bells"));
    happen("board midway browns out");
    assertTrue(railway.isWarning("mill-road-bells"));
  }

  @Test
  void trainWithoutBrakesRunsOffTheEnd() {
    railway.place(new TrainSpec("Runaway", "creamery", Command.Heading.EAST, 0.5, 0.3));
    railway.tell(new Command.Run("Runaway", Optional.empty(), Place.inText("t", 1)));
    passMs(500);
    happen("train Runaway loses its brakes");
    passMs(20_000);
    assertEquals(
        List.of("Runaway ran on where the track ends"),
        railway.mishaps().stream().map(Mishap::account).toList());
  }

  /** The engine is what needs power: at the rear of a train that it shoves. */
  @Test
  void trainThatIsShovedStandsOnlyWhereItsEngineHasNoPower() {
    railway.place(new TrainSpec("Shover", "tilling-main", Command.Heading.WEST, 1.28, 0.3));
    happen("train Shover ignores signals");
    railway.tell(
        new Command.Run("Shover", Optional.of(Command.Heading.EAST), Place.inText("t", 1)));
    while (!railway.train("Shover").orElseThrow().sections().contains("mid-west")) {
      passMs(20);
    }
    happen("breaker of east trips");
    passMs(1_000);
    assertTrue(railway.train("Shover").orElseThrow().speedMetresPerSecond() > 0);
    happen("breaker of west trips");
    passMs(1_000);
    assertEquals(0, railway.train("Shover").orElseThrow().speedMetresPerSecond());
  }

  @Test
  void shortTripsTheBreakerOfItsDistrictUntilItIsMended() {
    var east = layout.lineside().districts().get("east");
    happen("section mid-west is shorted");
    assertTrue(reported().contains(east.tripped()));
    assertEquals(
        Optional.of("the breaker trips again: East of Tilling is shorted"),
        railway.happen(happening("breaker of east is restored")));
    assertFalse(railway.isTripped("west"));
    happen("section mid-west is mended");
    assertTrue(railway.isTripped("east"), "a hand must restore it");
    happen("breaker of east is restored");
    assertFalse(railway.isTripped("east"));
  }

  @Test
  void daemonIsNoPartOfTheRailway() {
    assertTrue(railway.happen(happening("daemon is stopped")).isPresent());
  }

  // S-9.7.0.4 §5.2.
  @Test
  void emergencyIsCalledByItsWellKnownEvents() {
    happen("emergency stop is called");
    happen("emergency stop is cleared");
    happen("emergency off is called");
    happen("emergency off is cleared");
    assertEquals(
        List.of(
            EventId.of("01.00.00.00.00.00.FF.FD"),
            EventId.of("01.00.00.00.00.00.FF.FC"),
            EventId.of("01.00.00.00.00.00.FF.FF"),
            EventId.of("01.00.00.00.00.00.FF.FE")),
        reported());
  }

  @Test
  void crewIsKeptByTheLock() {
    assertEquals(
        Optional.of("Quarry switch is held by its lock"),
        railway.happen(happening("crew throws q1 reverse")));
    happen("crew breaks lock of q1");
    happen("crew throws q1 reverse");
    assertEquals(Optional.of(Position.REVERSE), railway.lies("q1"));
  }

  @Test
  void nothingOfThatNameIsAMistakeOfTheCaller() {
    Happening of = happening("board nowhere reboots");
    assertThrows(IllegalArgumentException.class, () -> railway.happen(of));
  }

  private void happen(String sentence) {
    assertEquals(Optional.empty(), railway.happen(happening(sentence)));
  }

  private static Happening happening(String sentence) {
    Problems problems = new Problems();
    var happening = Sentences.happening(sentence, Place.inText("sentence", 1), problems);
    assertEquals(List.of(), problems.sorted());
    return happening.orElseThrow();
  }

  private void passMs(long ms) {
    nowNs += ms * MS;
    railway.advance(nowNs);
  }

  private void show(String signal, String aspect) {
    EventId event = layout.signals().get(signal).shows().get(aspect);
    send(new Message.EventReport(ME, event, false));
  }

  private void call(String toe, Position position) {
    send(new Message.EventReport(ME, layout.switches().get(toe).to().get(position), false));
  }

  private void send(Message message) {
    railway.receive(message.encode(), nowNs);
  }

  /** The events reported since this was last asked; before that everything is heard. */
  private List<EventId> reported() {
    List<EventId> events = new ArrayList<>();
    for (CanFrame frame : frames) {
      if (Messages.decode(frame) instanceof Message.EventReport report) {
        events.add(report.event());
      }
    }
    frames.clear();
    return events;
  }

  private Validity asked(EventId event) {
    frames.clear();
    send(new Message.IdentifyProducer(ME, event));
    passMs(1_000);
    Validity told = Validity.UNKNOWN;
    for (CanFrame frame : frames) {
      if (Messages.decode(frame) instanceof Message.ProducerIdentified answer
          && answer.event().equals(event)) {
        told = answer.validity();
      }
    }
    frames.clear();
    return told;
  }
}
