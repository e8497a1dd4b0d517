package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.layout.Position;
import tappet.rules.RouteRow;

/** Detection failures, one at a time (F.4), and occupancy as the plainest of them. */
class DetectionFailureTest {

  static List<RouteRow> routes() {
    return List.copyOf(Desk.Railroad.DEMO.table().routes().values());
  }

  // 49 CFR 236.5, F.1 S13: every section of the route lost in turn. H.22: never by itself again.
  @ParameterizedTest
  @MethodSource("routes")
  void lostSectionPutsTheSignalToStopForGood(RouteRow route) {
    for (String section : route.path()) {
      var desk = proceedingOver(route);
      desk.unknown(section);
      assertEquals("stop", desk.shows(route.from()), section);
      assertTrue(desk.locked(route.id()), section);
      desk.clear(section);
      desk.pass(60.0);
      assertEquals("stop", desk.shows(route.from()), section);
      assertTrue(desk.locked(route.id()), section);
    }
  }

  // 49 CFR 236.5, 236.6: every switch of the route lost in turn.
  @ParameterizedTest
  @MethodSource("routes")
  void lostSwitchPutsTheSignalToStopForGood(RouteRow route) {
    for (String id : route.switches().keySet()) {
      var desk = proceedingOver(route);
      Position position = desk.lie(id).orElseThrow();
      desk.moving(id);
      assertEquals("stop", desk.shows(route.from()), id);
      assertTrue(desk.locked(route.id()), id);
      desk.lies(id, position);
      desk.pass(60.0);
      assertEquals("stop", desk.shows(route.from()), id);
      assertTrue(desk.locked(route.id()), id);
    }
  }

  // 49 CFR 236.201, 236.205, 236.311: any section of the route occupied.
  @ParameterizedTest
  @MethodSource("routes")
  void occupiedSectionPutsTheSignalToStop(RouteRow route) {
    for (String section : route.path()) {
      var desk = proceedingOver(route);
      desk.occupy(section);
      assertEquals("stop", desk.shows(route.from()), section);
    }
  }

  // 49 CFR 236.51, 236.402, H.8: no route is lined over what is occupied or has not been heard.
  @ParameterizedTest
  @MethodSource("routes")
  void routeOverAnOccupiedOrUnknownSectionIsNotLined(RouteRow route) {
    for (String section : route.path()) {
      var desk = Desk.demo();
      desk.occupy(section);
      assertFalse(tellLine(desk, route), section);
      desk.unknown(section);
      assertFalse(tellLine(desk, route), section);
      assertFalse(desk.locked(route.id()));
      desk.clear(section);
      desk.steady();
      assertTrue(tellLine(desk, route), section);
    }
  }

  // H.22: what has fallen clears again only when it is asked for again.
  @ParameterizedTest
  @MethodSource("routes")
  void fallenSignalClearsAgainWhenAskedFor(RouteRow route) {
    var desk = proceedingOver(route);
    var aspect = desk.shows(route.from());
    var last = route.path().get(route.path().size() - 1);
    desk.unknown(last);
    assertFalse(tellLine(desk, route));
    desk.clear(last);
    desk.steady();
    assertTrue(tellLine(desk, route));
    assertEquals(aspect, desk.shows(route.from()));
  }

  // 49 CFR 236.402: nothing is shown that nobody has asked for, however clear the railroad is.
  @Test
  void nothingProceedsUnasked() {
    var desk = Desk.demo();
    desk.pass(600.0);
    assertEquals(List.of(), desk.proceeding());
    assertEquals(List.of(), desk.movements());
  }

  // C.5 rule 5: signals are dropped first, and improved after, also where one follows the other.
  @Test
  void signalsThatFallAreToldFirst() {
    var desk =
        Desk.ready(
            Siding.LAYOUT,
            Siding.FLANK_RULES + "also: [{signal: e2e, needs: signal b2e is stop}]\n");
    desk.order("line e2e to h");
    int before = desk.outputs().size();
    desk.order("line b2e to d");
    assertEquals(
        List.of(new Output.Show("e2e", "stop"), new Output.Show("b2e", "approach")),
        desk.outputs().subList(before, desk.outputs().size()).stream()
            .filter(output -> output instanceof Output.Show)
            .toList());
  }

  private static Desk proceedingOver(RouteRow route) {
    var desk = Desk.demo();
    desk.line(route);
    assertTrue(desk.proceeds(route.from()));
    return desk;
  }

  private static boolean tellLine(Desk desk, RouteRow route) {
    return desk.tell("line " + route.from() + " to " + route.to()).granted();
  }
}
