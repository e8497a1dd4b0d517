package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.rules.RouteRow;

/** Time locking: a signal taken away keeps its route locked for the full time, train or not. */
class TimeLockingTest {

  private static final double JUST = 0.000_001;

  static List<RouteRow> routesWithoutApproach() {
    return Desk.Railroad.DEMO.table().routes().values().stream()
        .filter(route -> route.approach().isEmpty())
        .toList();
  }

  // 49 CFR 236.305, 236.407, 236.768: always in force, for the full time. F.2 L4: then it is free.
  @ParameterizedTest
  @MethodSource("routesWithoutApproach")
  void cancelledRouteWaitsTheFullTimeWithoutAnyTrain(RouteRow route) {
    var desk = Desk.demo();
    desk.line(route);
    desk.order("cancel " + route.from());
    assertEquals("stop", desk.shows(route.from()));
    desk.pass(route.release().toSeconds() - JUST);
    assertTrue(desk.locked(route.id()));
    route.switches().keySet().forEach(id -> assertTrue(desk.holds(id), id));
    desk.pass(JUST);
    assertFalse(desk.locked(route.id()));
    route.switches().keySet().forEach(id -> assertFalse(desk.holds(id), id));
  }

  // H.11: to take the signal away, give it back and take it away again wins nothing.
  @Test
  void clearingAgainStartsTheTimeAnew() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.order("cancel t4e");
    desk.pass(9.0);
    desk.order("line t4e to m2e");
    assertEquals("approach", desk.shows("t4e"));
    desk.pass(5.0);
    assertTrue(desk.locked("t4e-m2e"));
    desk.order("cancel t4e");
    desk.pass(10.0 - JUST);
    assertTrue(desk.locked("t4e-m2e"));
    desk.pass(JUST);
    assertFalse(desk.locked("t4e-m2e"));
  }

  @Test
  void cancellingTwiceNeitherShortensNorRestartsTheTime() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.order("cancel t4e");
    desk.pass(6.0);
    desk.order("cancel t4e");
    desk.pass(4.0 - JUST);
    assertTrue(desk.locked("t4e-m2e"));
    desk.pass(JUST);
    assertFalse(desk.locked("t4e-m2e"));
  }

  // 49 CFR 236.302, 236.305: a train that came through unheard, while a board was silent, stands in
  // the last section alone; once the time has run, its occupancy protects it as behind any train.
  @Test
  void routeWhoseTrainCameThroughUnheardIsGivenUpWhenItsTimeHasRun() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.unknown("tilling-e");
    desk.occupy("mid-west");
    desk.pass(60.0);
    assertTrue(desk.locked("t4e-m2e"), () -> "nobody has given it up\n" + desk.why("t4e-m2e"));
    desk.order("cancel t4e");
    desk.pass(60.0);
    assertTrue(desk.locked("t4e-m2e"), "what is not known is not vacant");
    String why = desk.why("t4e-m2e");
    assertTrue(why.contains("waits for its sections to become vacant"), why);
    desk.clear("tilling-e");
    desk.pass(2.5);
    assertFalse(desk.locked("t4e-m2e"));
    assertTrue(desk.refused("line t4e to m2e").contains("(East of Tilling) is occupied"));
  }

  // 49 CFR 236.305: not before its time has run, for the train may be another one.
  @Test
  void trainInTheLastSectionDoesNotShortenTheTime() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.occupy("mid-west");
    desk.order("cancel t4e");
    desk.pass(10.0 - JUST);
    assertTrue(desk.locked("t4e-m2e"));
    desk.pass(JUST);
    assertFalse(desk.locked("t4e-m2e"));
  }

  // 49 CFR 236.768: what no train can have accepted needs no time.
  @Test
  void routeWhoseSignalWasNeverShownIsFreeAtOnce() {
    var desk = Desk.demo();
    desk.stuck("t2");
    desk.order("line t6e to m2e");
    desk.pass(1.0);
    assertEquals("stop", desk.shows("t6e"));
    desk.order("cancel t6e");
    assertFalse(desk.locked("t6e-m2e"));
  }

  // 49 CFR 236.305: a signal that fell by itself has been shown too.
  @Test
  void signalThatFellByItselfNeedsTheTimeAsWell() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.occupy("mid-west");
    assertEquals("stop", desk.shows("t4e"));
    desk.clear("mid-west");
    desk.steady();
    desk.order("cancel t4e");
    desk.pass(10.0 - JUST);
    assertTrue(desk.locked("t4e-m2e"));
  }

  // 49 CFR 236.305: a train that could not stop is inside when the time has run.
  @Test
  void trainThatPassedTheFallenSignalKeepsTheRouteLocked() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.order("cancel t4e");
    desk.pass(3.0);
    desk.occupy("tilling-e");
    desk.pass(60.0);
    assertTrue(desk.locked("t4e-m2e"));
    assertTrue(desk.holds("t2"));
  }

  // 49 CFR 236.305: conflicting signals are held as long as the switches.
  @Test
  void conflictingRouteIsRefusedUntilTheTimeHasRun() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.order("cancel t4e");
    desk.pass(10.0 - JUST);
    assertFalse(desk.tell("line t6e to m2e").granted());
    desk.pass(JUST);
    assertTrue(desk.tell("line t6e to m2e").granted());
  }
}
