package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.rules.RouteRow;

/** Approach locking: a signal taken from a train that may have seen it keeps its route locked. */
class ApproachLockingTest {

  private static final double JUST = 0.000_001;

  static List<RouteRow> routesWithApproach() {
    return Desk.Railroad.DEMO.table().routes().values().stream()
        .filter(route -> !route.approach().isEmpty())
        .toList();
  }

  static List<Arguments> approaches() {
    return routesWithApproach().stream()
        .flatMap(route -> route.approach().stream().map(section -> Arguments.of(route, section)))
        .toList();
  }

  // 49 CFR 236.760: no train in the approach, no time.
  @ParameterizedTest
  @MethodSource("routesWithApproach")
  void cancelledRouteIsFreeAtOnceWithNoTrainInTheApproach(RouteRow route) {
    var desk = Desk.demo();
    desk.line(route);
    assertTrue(desk.proceeds(route.from()));
    desk.order("cancel " + route.from());
    assertEquals("stop", desk.shows(route.from()));
    assertFalse(desk.locked(route.id()));
  }

  // 49 CFR 236.305, 236.407, 236.760: a train anywhere in the approach.
  @ParameterizedTest
  @MethodSource("approaches")
  void trainInTheApproachHoldsACancelledRouteForTheTime(RouteRow route, String section) {
    var desk = Desk.demo();
    desk.line(route);
    desk.occupy(section);
    assertTrue(desk.proceeds(route.from()));
    desk.order("cancel " + route.from());
    assertEquals("stop", desk.shows(route.from()));
    desk.pass(route.release().toSeconds() - JUST);
    assertTrue(desk.locked(route.id()));
    desk.pass(JUST);
    assertFalse(desk.locked(route.id()));
  }

  // 49 CFR 236.5, H.8: an approach that is not known is not clear.
  @ParameterizedTest
  @MethodSource("approaches")
  void unknownApproachHoldsACancelledRouteForTheTime(RouteRow route, String section) {
    var desk = Desk.demo();
    desk.line(route);
    desk.unknown(section);
    desk.order("cancel " + route.from());
    desk.pass(route.release().toSeconds() - JUST);
    assertTrue(desk.locked(route.id()));
  }

  // H.11: the route is given back and taken again while the train comes on.
  @Test
  void clearingAgainInFrontOfATrainStartsTheTimeAnew() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.occupy("west-main");
    desk.order("cancel t2e");
    desk.pass(8.0);
    desk.order("line t2e to t4e");
    desk.order("cancel t2e");
    desk.pass(10.0 - JUST);
    assertTrue(desk.locked("t2e-t4e"));
    desk.pass(JUST);
    assertFalse(desk.locked("t2e-t4e"));
  }

  @Test
  void trainThatHasLeftTheApproachBackwardsFreesTheRoute() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.occupy("fallow-os");
    desk.order("cancel t2e");
    desk.moves("fallow-os", "fallow-1");
    assertFalse(desk.locked("t2e-t4e"));
  }

  // 49 CFR 236.767: in the route, the approach no longer matters.
  @Test
  void trainInTheRouteHoldsItThoughTheApproachIsClear() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.runs("west-main", "tilling-w");
    desk.order("cancel t2e");
    desk.pass(60.0);
    assertTrue(desk.locked("t2e-t4e"));
    assertTrue(desk.holds("t1"));
  }

  // H.11: the lone clearing of the first section is not the train's leaving of it.
  @Test
  void trainLiftedFromTheRouteFreesItOnlyAfterTheTime() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.occupy("tilling-w");
    desk.pass(1.0);
    desk.clear("tilling-w");
    desk.steady();
    desk.order("cancel t2e");
    assertTrue(desk.locked("t2e-t4e"));
    desk.pass(10.0);
    assertFalse(desk.locked("t2e-t4e"));
  }
}
