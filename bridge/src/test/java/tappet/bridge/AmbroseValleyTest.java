package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.bridge.RailroadUnderTest.EXTRA_41;
import static tappet.bridge.RailroadUnderTest.EXTRA_57;
import static tappet.bridge.RailroadUnderTest.MILL_TURN;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.lcc.NodeId;
import tappet.simulator.TrainState;

/** Train movements on the Ambrose Valley Line, from the lined route to the end of the run. */
class AmbroseValleyTest {

  private static final Duration A_WHILE = Duration.ofMinutes(2);
  private static final NodeId TILLING = NodeId.of("0A.57.00.00.02.00");

  @Test
  void twoTrainsMeetAtTilling() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41, MILL_TURN);
    meetAtTilling(line);
    assertEquals(List.of("corvane-main"), line.train("Extra 41").sections());
    assertEquals(List.of("fallow-1"), line.train("Mill Turn").sections());
    assertEverythingIsPutBack(line);
  }

  private static void meetAtTilling(RailroadUnderTest line) {
    line.tell("line t2e to t6e");
    line.tell("line f2e to t2e");
    line.tell("run 'Extra 41'");
    line.passUntil(A_WHILE, "41 in the siding", () -> line.waitsAt("Extra 41", "t6e"));
    assertEquals(List.of("tilling-siding"), line.train("Extra 41").sections());

    line.tell("line c6w to m2w");
    line.tell("line t8w to t4w");
    // The middle sections are single track: nobody is lined against the Mill Turn.
    assertTrue(line.refused("line t6e to m2e").contains("traffic on midway is set west"));
    line.tell("run 'Mill Turn'");
    line.passUntil(A_WHILE, "the meet", () -> line.waitsAt("Mill Turn", "t4w"));
    assertTrue(line.waitsAt("Extra 41", "t6e"));

    line.passTime(Duration.ofSeconds(5));
    line.tell("line c2e to corvane-end");
    line.tell("line t6e to m2e");
    line.tell("line f6w to fallow-1-end");
    line.tell("line t4w to f6w");
    line.passUntil(A_WHILE, "41 at Corvane", () -> line.isAtEndOfTrack("Extra 41"));
    line.passUntil(A_WHILE, "the Mill Turn staged", () -> line.isAtEndOfTrack("Mill Turn"));
    line.passTime(Duration.ofSeconds(5));
  }

  @Test
  void followingTrainWaitsUntilTheOneAheadHasLeft() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41, EXTRA_57);
    line.tell("line t2e to t4e");
    line.tell("line f2e to t2e");
    line.tell("run 'Extra 41'");
    line.tell("run 'Extra 57'");
    line.passUntil(A_WHILE, "41 at Tilling", () -> line.waitsAt("Extra 41", "t4e"));
    assertTrue(line.waitsAt("Extra 57", "f4e"));

    line.passTime(Duration.ofSeconds(3));
    line.tell("line f4e to t2e");
    line.passUntil(A_WHILE, "57 behind it", () -> line.waitsAt("Extra 57", "t2e"));
    assertTrue(line.refused("line t2e to t4e").contains("tilling-main"));

    line.tell("line t4e to m2e");
    line.passUntil(A_WHILE, "41 at Corvane", () -> line.waitsAt("Extra 41", "c2e"));
    line.passTime(Duration.ofSeconds(3));
    line.tell("line t2e to t4e");
    line.passUntil(A_WHILE, "57 at Tilling", () -> line.waitsAt("Extra 57", "t4e"));
    assertTrue(line.refused("line c4w to m2w").contains("traffic on midway is set east"));
    line.tell("line c2e to corvane-end");
    line.passUntil(A_WHILE, "41 at the end", () -> line.isAtEndOfTrack("Extra 41"));
    line.passTime(Duration.ofSeconds(3));
    assertEverythingIsPutBack(line);
  }

  // Interlocking sheet, C.3: Stop and Proceed. Automatic signals keep trains a block apart; one
  // that goes on by sight comes up to the train ahead, and absolute signals hold it as ever.
  @Test
  void trainGoesOnBySightPastTheAutomaticSignal() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41, EXTRA_57);
    line.tell("line t4e to m2e");
    line.tell("line t2e to t4e");
    line.tell("line f2e to t2e");
    line.tell("run 'Extra 41'");
    line.tell("run 'Extra 57'");
    line.passUntil(A_WHILE, "41 at Corvane", () -> line.waitsAt("Extra 41", "c2e"));
    line.passTime(Duration.ofSeconds(3));
    line.tell("line t4e to m2e");
    line.tell("line t2e to t4e");
    line.tell("line f4e to t2e");
    line.passUntil(A_WHILE, "57 at Midway", () -> line.waitsAt("Extra 57", "m2e"));
    assertEquals("stop", line.aspect("m2e"));

    line.passUntil(A_WHILE, "57 behind 41", () -> isBehindATrain(line, "Extra 57"));
    assertTrue(line.train("Extra 57").sections().contains("mid-east"));
    line.passTime(Duration.ofSeconds(60));
    assertEquals(List.of(), line.railway.mishaps());

    line.tell("line c2e to corvane-end");
    line.passUntil(A_WHILE, "57 at Corvane", () -> line.waitsAt("Extra 57", "c2e"));
    line.passTime(Duration.ofSeconds(60));
    assertTrue(line.waitsAt("Extra 57", "c2e"));
    assertEquals(List.of(), line.railway.mishaps());
  }

  private static boolean isBehindATrain(RailroadUnderTest line, String train) {
    return line.train(train).activity() == TrainState.Activity.WAITING_BEHIND_TRAIN;
  }

  @Test
  void divergingMoveRunsThroughTheYardLead() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_57);
    lineFromStagingTo(line, "j15");
    assertEquals("diverging-approach", line.aspect("c2e"));
    assertEquals("approach-diverging", line.aspect("m2e"));
    assertEquals("clear", line.aspect("t4e"));
    assertEquals("clear", line.aspect("t2e"));
    assertEquals("diverging-clear", line.aspect("f4e"));
    runToTheEnd(line);
    assertEquals(List.of("yard-throat"), line.train("Extra 57").sections());
    assertEquals(Optional.of(Position.REVERSE), line.railway.lies("c1"));
    assertEverythingIsPutBack(line);
  }

  @Test
  void divergingMoveRunsOntoTheMillBranch() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_57);
    lineFromStagingTo(line, "mill-end");
    runToTheEnd(line);
    assertEquals(List.of("mill-branch"), line.train("Extra 57").sections());
    assertEquals(Optional.of(Position.REVERSE), line.railway.lies("c2"));
    assertEverythingIsPutBack(line);
  }

  private static void lineFromStagingTo(RailroadUnderTest line, String end) {
    line.tell("line c2e to " + end);
    line.tell("line t4e to m2e");
    line.tell("line t2e to t4e");
    line.tell("line f4e to t2e");
    line.passTime(Duration.ofSeconds(4));
  }

  private static void runToTheEnd(RailroadUnderTest line) {
    line.tell("run 'Extra 57'");
    line.passUntil(A_WHILE, "57 at the end", () -> line.isAtEndOfTrack("Extra 57"));
    line.passTime(Duration.ofSeconds(5));
  }

  /** Nothing has happened to anyone, every signal is at Stop, no route is left, no alarm stands. */
  private static void assertEverythingIsPutBack(RailroadUnderTest line) {
    assertEquals(List.of(), line.railway.mishaps());
    assertEquals(List.of(), line.box.alarms());
    line.interlocking
        .layout()
        .signals()
        .keySet()
        .forEach(signal -> assertEquals(Signal.STOP, line.aspect(signal), signal));
    line.box.names().stream()
        .filter(name -> line.why(name).startsWith("route "))
        .forEach(route -> assertFalse(line.interlocking.routeLocked(route), route));
  }

  @Test
  void signalCancelledInATrainsFaceKeepsItsRouteUntilTheTimeHasRun() {
    // 49 CFR 236.305 (approach or time locking); the demo's rules give t2e 10 s.
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line t2e to t4e");
    line.tell("line f2e to t2e");
    line.tell("run 'Extra 41'");
    line.passUntil(
        A_WHILE,
        "41 on the approach",
        () -> line.train("Extra 41").sections().contains("west-main"));

    line.tell("cancel t2e");
    assertEquals(Signal.STOP, line.aspect("t2e"));
    assertTrue(line.refused("throw t1 reverse").contains("is held by route"));
    assertTrue(line.why("t2e-t4e").contains("release time runs, 10 s left"));
    line.passTime(Duration.ofMillis(9_900));
    assertTrue(line.interlocking.routeLocked("t2e-t4e"));
    line.passTime(Duration.ofMillis(200));
    assertFalse(line.interlocking.routeLocked("t2e-t4e"));

    line.passUntil(A_WHILE, "41 standing", () -> line.waitsAt("Extra 41", "t2e"));
    line.tell("throw t1 reverse");
    assertEquals(List.of(), line.railway.mishaps());
  }

  @Test
  void routeCancelledBeforeAnyTrainCouldSeeItGoesAtOnce() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line t2e to t4e");
    assertEquals("approach", line.aspect("t2e"));
    line.tell("cancel t2e");
    assertFalse(line.interlocking.routeLocked("t2e-t4e"));
  }

  @Test
  void switchThatFailsToMoveHoldsItsSignalAtStopAndRaisesAnAlarm() {
    // 49 CFR 236.303 (switches proved before a signal clears); the demo gives t1 4 s.
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.railway.failSwitch("t1");
    line.tell("line t2e to t6e");
    line.passTime(Duration.ofMillis(3_900));
    assertEquals(List.of(), line.box.alarms());
    line.passTime(Duration.ofMillis(200));
    assertEquals(1, line.box.alarms().size());
    assertTrue(line.box.alarms().get(0).startsWith("switch t1 "), line.box.alarms()::toString);
    assertTrue(line.why("t2e").contains("switch t1"), line.why("t2e"));
    line.passTime(A_WHILE);
    assertEquals(Signal.STOP, line.aspect("t2e"));

    line.railway.mendSwitch("t1");
    line.passUntil(
        A_WHILE, "the route proved", () -> line.aspect("t2e").equals("diverging-approach"));
    assertEquals(List.of(), line.box.alarms());
  }

  @Test
  void boardThatIsSilentLetsNoSwitchOfItsOwnBeProved() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.railway.silence(TILLING);
    line.tell("line t2e to t6e");
    line.passTime(Duration.ofSeconds(5));
    assertTrue(line.box.alarms().get(0).startsWith("switch t1 "), line.box.alarms()::toString);
    assertEquals(Signal.STOP, line.interlocking.aspect("t2e"));

    line.railway.restore(TILLING);
    line.carry();
    line.passTime(Duration.ofSeconds(1));
    assertEquals(Signal.STOP, line.interlocking.aspect("t2e"));
    assertEquals(Optional.of(Position.NORMAL), line.interlocking.position("t1"));
  }

  @Test
  void boardThatStopsAnsweringMakesWhatItCarriesUnknown() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line t2e to t4e");
    line.passTime(A_WHILE);
    line.railway.silence(TILLING);
    line.passUntil(
        Duration.ofSeconds(10),
        "the signal dropped",
        () -> line.interlocking.aspect("t2e").equals(Signal.STOP));
    assertEquals(
        List.of(
            "board tilling (Tilling board) does not answer; unknown: sections tilling-w,"
                + " tilling-main, tilling-siding, tilling-e; switches t1, t2; signals t2e, t4e,"
                + " t6e, t4w, t6w, t8w; power district west"),
        line.box.alarms());
    assertTrue(line.why("t2e").contains("power district west (West end) has not reported"));

    line.railway.restore(TILLING);
    line.carry();
    line.passTime(A_WHILE);
    assertEquals(List.of(), line.box.alarms());
    assertEquals(Signal.STOP, line.aspect("t2e"));
    line.tell("line t2e to t4e");
    assertEquals("approach", line.aspect("t2e"));
  }

  @Test
  void nothingIsLinedBeforeTheFieldHasAnswered() {
    RailroadUnderTest line = RailroadUnderTest.switchedOn(EXTRA_41);
    line.railway.boards().forEach(line.railway::silence);
    line.passTime(Duration.ofSeconds(30));
    assertTrue(line.refused("line t2e to t4e").contains("has not reported"));
    assertTrue(line.why("t2e").contains("has not reported"));

    line.railway.boards().forEach(line.railway::restore);
    line.passTime(Duration.ofSeconds(4));
    assertEquals(Signal.STOP, line.aspect("t2e"));
    line.tell("line t2e to t4e");
    assertEquals("approach", line.aspect("t2e"));
  }

  @Test
  void nothingIsLinedDuringTheTimeSinceTheStart() {
    // The demo's rules: times, start, 10 s. The boards have answered long before.
    RailroadUnderTest line = RailroadUnderTest.switchedOn(EXTRA_41);
    line.passTime(Duration.ofMillis(9_900));
    assertTrue(line.refused("line t2e to t4e").contains("the time since the start still runs"));
    line.passTime(Duration.ofMillis(200));
    line.tell("line t2e to t4e");
  }

  @Test
  void pulledCablePutsSignalsToStopUntilTheyAreAskedForAgain() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line t2e to t4e");
    line.pullCable();
    assertEquals(Signal.STOP, line.interlocking.aspect("t2e"));
    assertTrue(
        line.box.alarms().contains(RailroadUnderTest.CABLE + " does not answer: device gone"));
    assertTrue(line.why("t2e").contains("has not reported"), line.why("t2e"));
    assertEquals("approach", line.aspect("t2e"), "nobody could tell the layout");

    line.plugCableIn();
    assertEquals(Signal.STOP, line.aspect("t2e"), "told again as soon as the cable is back");
    assertEquals(List.of(), line.box.alarms());
    line.passTime(Duration.ofSeconds(10));
    assertEquals(Signal.STOP, line.aspect("t2e"));
    line.tell("line t2e to t4e");
    assertEquals("approach", line.aspect("t2e"));
  }

  @Test
  void sameMovesGiveTheSameFramesAtTheSameTimes() {
    RailroadUnderTest first = RailroadUnderTest.ready(EXTRA_41, MILL_TURN);
    RailroadUnderTest second = RailroadUnderTest.ready(EXTRA_41, MILL_TURN);
    meetAtTilling(first);
    meetAtTilling(second);
    assertTrue(first.record().size() > 500, "frames and changes: " + first.record().size());
    assertEquals(first.record(), second.record());
  }
}
