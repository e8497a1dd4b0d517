package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Signal;
import tappet.lcc.NodeId;

/** What holds when the box or a board starts, through frames and on virtual time. */
class AfterAStartTest {

  private static final NodeId MIDWAY = NodeId.of("0A.57.00.00.03.00");

  /** Longer than a board may be silent, and shorter than the demo's time since the start. */
  private static final Duration HEARD = Duration.ofSeconds(8);

  // Interlocking sheet, F.1 S19; 49 CFR 236.305: a train may still run on a signal of before.
  @ParameterizedTest
  @ValueSource(
      strings = {
        "throw t1 reverse",
        "release q1 to 'Extra 41'",
        "line t2e to t4e",
        "unlock doorway",
        "grant permit to 'Way Freight' on mill-branch",
        "block switch t1 for 'Way'"
      })
  void nothingIsGivenBeforeTheTimeSinceTheStartHasRun(String sentence) {
    RailroadUnderTest line = RailroadUnderTest.switchedOn();
    line.passTime(HEARD);
    String why = line.refused(sentence);
    assertTrue(why.contains("the time since the start still runs"), why);
    line.interlocking
        .layout()
        .signals()
        .keySet()
        .forEach(signal -> assertEquals(Signal.STOP, line.aspect(signal), signal));
    line.passTime(Duration.ofSeconds(4));
    line.tell(sentence);
  }

  // 49 CFR 236.405, 236.769: the way that trains run over a line is not known after a start, and
  // while it is not, nobody is let in against them.
  @Test
  void lineWithATrainOnItIsClosedToOthersUntilAPersonHasSaidWhichWayItRuns() {
    RailroadUnderTest line =
        RailroadUnderTest.ready(RailroadUnderTest.EXTRA_41, RailroadUnderTest.MILL_TURN);
    List.of("line t4e to m2e", "line t2e to t4e", "line f2e to t2e").forEach(line::tell);
    line.passTime(Duration.ofSeconds(4));
    line.tell("run 'Extra 41'");
    line.passUntil(
        Duration.ofMinutes(3),
        "the train on the line",
        () -> line.train("Extra 41").sections().contains("mid-west"));
    line.runDaemon(false);
    line.runDaemon(true);
    line.passTime(HEARD.plusSeconds(4));

    assertEquals(Signal.STOP, line.railway.aspect("m2e"), "what it followed is not known");
    assertEquals(Signal.STOP, line.railway.aspect("m2w"));
    String why = line.refused("line c6w to m2w");
    assertTrue(why.contains("traffic on midway"), why);

    line.tell("set traffic midway east");
    assertTrue(line.refused("set traffic midway west").contains("is set east"));
    line.passUntil(
        Duration.ofMinutes(3), "the train at Corvane", () -> line.waitsAt("Extra 41", "c2e"));
    line.refused("line c6w to m2w");
    line.tell("line c2e to corvane-end");
    line.passUntil(
        Duration.ofMinutes(3), "the train off the line", () -> line.isAtEndOfTrack("Extra 41"));
    line.passTime(Duration.ofSeconds(4));
    line.tell("line c6w to m2w");
    assertEquals(List.of(), line.railway.mishaps());
  }

  // 49 CFR 236.5: a lock that was to hold and did not hear it is told again when its board is back.
  @Test
  void lockWhoseBoardWasSilentIsToldAgainToHold() {
    RailroadUnderTest line = RailroadUnderTest.ready();
    line.tell("release q1 to 'Extra 41'");
    line.passTime(Duration.ofSeconds(3));
    assertTrue(line.why("q1").contains("is released to Extra 41"), line.why("q1"));
    line.railway.silence(MIDWAY);
    line.tell("secure q1");
    line.passTime(Duration.ofSeconds(15));
    line.railway.restore(MIDWAY);
    line.carry();
    line.passTime(Duration.ofSeconds(5));
    assertTrue(line.why("q1").contains("(Quarry switch) is secured"), line.why("q1"));
    assertEquals(List.of(), line.box.alarms());
  }
}
