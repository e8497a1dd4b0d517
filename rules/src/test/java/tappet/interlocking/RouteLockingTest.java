package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.rules.RouteRow;

/** Route locking: no switch ahead of a train moves, and what is behind it is let go in order. */
class RouteLockingTest {

  static List<RouteRow> routes() {
    return List.copyOf(Desk.Railroad.DEMO.table().routes().values());
  }

  // 49 CFR 236.302, 236.408, 236.767: each switch ahead, at each position of the train.
  @ParameterizedTest
  @CsvSource({
    // front in, rear in, s1 locked, s2 locked
    "first, first, true, true",
    "middle, first, true, true",
    "middle, middle, false, true",
    "second, middle, false, true",
    "second, second, false, true",
    "last, second, false, true",
    "last, last, false, false",
  })
  void switchesAheadAndUnderTheTrainAreLocked(String front, String rear, boolean s1, boolean s2) {
    var way = List.of("near", "first", "middle", "second", "last");
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.runs(way.subList(0, way.indexOf(rear) + 1).toArray(String[]::new));
    if (!front.equals(rear)) {
      desk.occupy(front);
    }
    assertEquals(s1, desk.holds("s1"), "s1");
    assertEquals(s2, desk.holds("s2"), "s2");
  }

  // 49 CFR 236.302: effective at once when the first wheels have passed the signal.
  @Test
  void signalFallsAsTheTrainPassesAndTheRouteStaysLocked() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    assertEquals("approach", desk.shows("a2e"));
    desk.occupy("first");
    assertEquals("stop", desk.shows("a2e"));
    assertTrue(desk.locked("through"));
    assertTrue(desk.holds("s2"));
  }

  // F.2 L3: after a train has run through, everything is free again.
  @ParameterizedTest
  @MethodSource("routes")
  void trainThatRunsThroughLeavesNothingLocked(RouteRow route) {
    var desk = Desk.demo();
    desk.line(route);
    desk.runs(route.path().toArray(String[]::new));
    assertFalse(desk.locked(route.id()));
    assertEquals("stop", desk.shows(route.from()));
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  // H.10: the signal does not clear again behind the train, whatever becomes clear.
  @ParameterizedTest
  @MethodSource("routes")
  void signalStaysAtStopBehindTheTrain(RouteRow route) {
    var desk = Desk.demo();
    desk.line(route);
    desk.runs(route.path().toArray(String[]::new));
    desk.clear(route.path().get(route.path().size() - 1));
    desk.pass(20.0);
    assertEquals("stop", desk.shows(route.from()));
  }

  // H.3: the section ahead becoming occupied releases nothing that the rear still stands in.
  @Test
  void routeIsNotReleasedByWhatTheFrontReaches() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    for (String section : List.of("first", "middle", "second", "last")) {
      desk.occupy(section);
      desk.pass(5.0);
    }
    assertTrue(desk.locked("through"));
    assertTrue(desk.holds("s1"));
    assertTrue(desk.holds("s2"));
  }

  // H.12: a train lifted off the track releases nothing.
  @Test
  void clearingOutOfOrderReleasesNothing() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.pass(1.0);
    desk.clear("first");
    desk.pass(60.0);
    assertTrue(desk.locked("through"));
    assertTrue(desk.holds("s1"));
    assertTrue(desk.holds("s2"));

    desk.order("cancel a2e");
    desk.pass(9.9);
    assertTrue(desk.locked("through"));
    desk.pass(0.1);
    assertFalse(desk.locked("through"));
  }

  // H.10: the authority that one train has taken is not given once more to the next.
  @Test
  void acceptedSignalIsNotGivenToASecondTrain() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.pass(1.0);
    desk.clear("first");
    desk.steady();
    assertFalse(desk.tell("line a2e to z").granted());
    assertEquals("stop", desk.shows("a2e"));
  }

  // H.12: occupied and clear far ahead of the train is no train that has passed.
  @Test
  void flickerAheadOfTheTrainReleasesNothing() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.occupy("second");
    desk.pass(1.0);
    desk.clear("second");
    desk.steady();
    assertTrue(desk.holds("s2"));
    assertTrue(desk.locked("through"));
  }

  // F.3 P3: a train longer than a section holds every section that it stands in.
  @Test
  void longTrainHoldsAllItStandsIn() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.occupy("middle");
    desk.occupy("second");
    desk.pass(1.0);
    desk.clear("first");
    desk.steady();
    assertFalse(desk.holds("s1"));
    assertTrue(desk.holds("s2"));
    desk.occupy("last");
    desk.clear("middle");
    desk.steady();
    assertTrue(desk.holds("s2"));
  }

  // F.3 P5: where a train has come apart, the rear holds what it stands in and all behind the next.
  @Test
  void rearLeftBehindKeepsItsSectionLocked() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.occupy("middle");
    desk.occupy("second");
    desk.occupy("last");
    desk.pass(1.0);
    desk.clear("second");
    desk.clear("middle");
    desk.pass(30.0);
    assertTrue(desk.locked("through"));
    assertTrue(desk.holds("s1"));
    assertTrue(desk.holds("s2"));
  }

  // H.14: the switch met from the frog is part of the route like the one met at the points.
  @Test
  void trailingSwitchIsCalledLockedAndDetected() {
    var desk = Throat.desk();
    desk.order("throw s2 reverse");
    desk.pass(1.0);
    desk.movements();
    desk.order("line a2e to z");
    assertTrue(desk.movements().contains("s2 normal"));
    assertEquals("stop", desk.shows("a2e"));
    desk.pass(1.0);
    assertEquals("approach", desk.shows("a2e"));
    desk.moving("s2");
    assertEquals("stop", desk.shows("a2e"));
  }

  // H.4: no switch has a position of its own to fall back to; losing the route moves nothing.
  @Test
  void switchStaysWhereItIsWhenTheRouteIsGone() {
    var desk = Throat.desk();
    desk.order("line a2e to s-end");
    desk.pass(1.0);
    desk.movements();
    desk.runs("near", "first", "spur");
    assertFalse(desk.locked("to-spur"));
    desk.pass(60.0);
    assertEquals(List.of(), desk.movements());
    assertFalse(desk.lie("s1").orElseThrow() == NORMAL);
  }
}
