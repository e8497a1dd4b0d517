package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Stacking: a request waits until it can be granted (common practice, no source). */
class StackingTest {

  @Test
  void stackedRouteIsLinedWhenItsWayIsFree() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.order("stack d2w to m2w");
    desk.order("line c4e to e");
    desk.runs("west", "mid-1", "mid-2");
    assertFalse(desk.locked("d2w-m2w"));
    desk.moves("mid-2", "east-os");
    assertFalse(desk.locked("d2w-m2w"));
    desk.moves("east-os", "east");
    assertTrue(desk.locked("d2w-m2w"));
    assertEquals(List.of("m2w", "d2w"), desk.proceeding());
  }

  @Test
  void answerSaysWhatTheRequestWaitsFor() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    var answer = desk.tell("stack d2w to m2w");
    assertTrue(answer.granted());
    assertEquals("route d2w-m2w is stacked and waits", answer.explanation().clause());
    assertTrue(
        answer.explanation().text().contains("traffic on middle is set east"),
        answer.explanation()::text);
  }

  @Test
  void whatCanBeLinedAtOnceIsNotStacked() {
    var desk = Between.desk();
    assertEquals("route b2e-m2e is lined", desk.tell("stack b2e to m2e").explanation().clause());
  }

  // Of two that wait for the same track, the one that was asked for first is lined first.
  @Test
  void stackedRequestsAreGrantedInTheirOrder() {
    var desk = Between.desk();
    desk.occupy("mid-2");
    desk.order("stack g2w to m2w");
    desk.order("stack d2w to m2w");
    desk.clear("mid-2");
    desk.steady();
    assertTrue(desk.locked("g2w-m2w"));
    assertFalse(desk.locked("d2w-m2w"));
  }

  @Test
  void stackedRequestIsForgottenOnDemand() {
    var desk = Between.desk();
    desk.occupy("mid-2");
    desk.order("stack d2w to m2w");
    desk.order("unstack d2w");
    desk.clear("mid-2");
    desk.steady();
    assertFalse(desk.locked("d2w-m2w"));
    assertFalse(desk.tell("unstack d2w").granted());
  }

  @Test
  void emergencyForgetsWhatIsStacked() {
    var desk = Between.desk();
    desk.occupy("mid-2");
    desk.order("stack d2w to m2w");
    desk.emergency(Emergency.STOP, true);
    desk.emergency(Emergency.STOP, false);
    desk.clear("mid-2");
    desk.steady();
    assertFalse(desk.locked("d2w-m2w"));
  }

  @Test
  void stackIsBounded() {
    var desk = Desk.demo();
    desk.layout.sections().keySet().forEach(desk::occupy);
    int stacked = 0;
    for (var row : desk.table.routes().values()) {
      stacked += desk.tell("stack " + row.from() + " to " + row.to()).granted() ? 1 : 0;
    }
    assertEquals(Math.min(desk.table.routes().size(), StandingRequests.MOST), stacked);
  }

  @Test
  void routeIsLinedByItsOwnName() {
    var desk = Between.desk();
    desk.order("line route c4e-h");
    assertTrue(desk.locked("c4e-h"));
    var unknown = desk.tell("line route c4e-x");
    assertFalse(unknown.granted());
    assertTrue(unknown.explanation().text().contains("c4e-"), unknown.explanation()::text);
    assertFalse(desk.tell("line route m2e-c4e").granted());
  }
}
