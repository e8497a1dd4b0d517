package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/**
 * What a route keeps clear beyond its way, where an automatic signal leads over it: each keeps off
 * the other, as two routes do (49 CFR 236.773; interlocking sheet, H.13).
 */
class OverlapOverALineTest {

  private final Desk desk = Between.overlapped();

  // 236.773: converging movements; the refusal says which way trains may come.
  @Test
  void routeIsNotLinedWhileTrafficIsSetTowardItsOverlap() {
    desk.order("line d2w to m2w");
    desk.pass(1.0);
    assertEquals(List.of("m2w", "d2w"), desk.proceeding());
    assertEquals(
        """
        route a2e-b2e cannot be lined:
          trains may come west over middle:
            traffic on middle is set west
        """,
        desk.tell("line a2e to b2e").explanation().text());
  }

  // 236.769: it stays so until the last train has left the line.
  @Test
  void routeIsNotLinedWhileATrainOnTheLineMayStillCome() {
    desk.order("line d2w to m2w");
    desk.pass(1.0);
    desk.runs("east", "east-os", "mid-2");
    desk.emergency(Emergency.STOP, true);
    desk.emergency(Emergency.STOP, false);
    assertEquals("stop", desk.shows("m2w"));
    assertFalse(desk.tell("line a2e to b2e").granted());
    desk.clear("mid-2");
    desk.steady();
    desk.order("line a2e to b2e");
  }

  // 236.5, F.1 S19: a train on the line of which nobody knows which way it runs may come. Of what
  // would do, the answer names what a person can say, and not that the train may leave.
  @Test
  void routeIsNotLinedWhileTheLineIsOccupiedAndItsWayUnknown() {
    desk.occupy("mid-2");
    assertEquals(
        """
        route a2e-b2e cannot be lined:
          trains may come west over middle:
            traffic on middle is not set east
        """,
        desk.tell("line a2e to b2e").explanation().text());
    desk.order("set traffic middle east");
    desk.order("line a2e to b2e");
  }

  // H.13, the other way round: the automatic signal waits, and says for whom.
  @Test
  void automaticSignalWaitsUntilTheOverlapIsReleased() {
    desk.order("line a2e to b2e");
    desk.order("line d2w to m2w");
    desk.pass(1.0);
    assertEquals(List.of("a2e", "d2w"), desk.proceeding());
    assertEquals("approach", desk.shows("d2w"));
    assertEquals(
        """
        signal m2w shows stop:
          route m2w-b4w is automatic, but:
            route a2e-b2e is locked
        """,
        desk.why("m2w"));
    desk.occupy("west");
    desk.pass(7.9);
    assertEquals("stop", desk.shows("m2w"));
    desk.pass(0.2);
    assertEquals("approach", desk.shows("m2w"));
  }

  // 236.305: the release time of the cancelled route counts for the automatic signal, too.
  @Test
  void automaticSignalWaitsUntilACancelledRouteIsReleased() {
    desk.order("line a2e to b2e");
    desk.order("line d2w to m2w");
    desk.order("cancel a2e");
    desk.pass(7.9);
    assertEquals("stop", desk.shows("m2w"));
    desk.pass(0.2);
    assertEquals("approach", desk.shows("m2w"));
  }

  // Common practice, no source: who runs on from where the route ends runs away from it.
  @Test
  void trafficThatRunsAwayFromTheOverlapIsNoHindrance() {
    desk.order("line b2e to m2e");
    desk.order("line a2e to b2e");
    assertEquals(List.of("a2e", "b2e", "m2e"), desk.proceeding());
  }

  // The same where the overlap reaches over the next automatic signal.
  @Test
  void automaticSignalWithinTheOverlapRunsAwayFromIt() {
    var longer =
        Desk.ready(
            Between.OVERLAPPED_LAYOUT,
            Between.OVERLAPPED_RULES.replace(
                "{clear: [mid-1], time", "{clear: [mid-1, mid-2], time"));
    longer.order("line b2e to m2e");
    longer.order("line a2e to b2e");
    assertEquals(List.of("a2e", "b2e", "m2e"), longer.proceeding());
    assertFalse(longer.tell("line d2w to m2w").granted());
  }

  // Traffic of a line that is run one way stays set for good: such a row could never be lined.
  @Test
  void overlapOverALineThatIsRunOneWayIsRefused() {
    var problems = new Problems();
    var layout = Between.OVERLAPPED.layout();
    var rules =
        Between.OVERLAPPED_RULES
            .replaceAll(".*from: b2e,.*\\n|.*from: m2e,.*\\n", "")
            .replace("eastward: [b2e, m2e], ", "");
    assertTrue(RuleReader.read("rules.yaml", rules, layout, problems).isEmpty());
    assertEquals(
        "rules.yaml:4:5: route a2e-b2e keeps section mid-1 clear, into which m2w leads trains all"
            + " the time; let the dispatcher line m2w, or leave the section out",
        problems.sorted().get(0).toString());
  }
}
