package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.REVERSE;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.rules.AspectReach;
import tappet.rules.RouteRow;

/** What signals show: by the speed of the route and by what the next signal shows. */
class AspectsTest {

  private static final String LOOP =
      """
      layout: 1
      name: A closed loop
      joints: {a: [0, 0], b: [4, 2], c: [4, -2]}
      sections:
        ab: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        bc: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        ca: {between: [c, a], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
      signals:
        a1: {at: a, into: ab, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, advance-approach: 0A.00.00.00.00.01.41.02, clear: 0A.00.00.00.00.01.41.03}}
        b1: {at: b, into: bc, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01, advance-approach: 0A.00.00.00.00.01.42.02, clear: 0A.00.00.00.00.01.42.03}}
        c1: {at: c, into: ca, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01, advance-approach: 0A.00.00.00.00.01.43.02, clear: 0A.00.00.00.00.01.43.03}}
      """;

  private static final String LOOP_RULES =
      """
      rules: 1
      routes:
        - {from: a1, to: b1, speed: main, release: 5 s}
        - {from: b1, to: c1, speed: main, release: 5 s}
        - {from: c1, to: a1, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach, beyond approach: advance-approach, beyond advance-approach: clear, beyond clear: clear}
      """;

  // 49 CFR 236.23, C.5 rule 1, F.1 S12: the aspect is the row for what the next signal shows now.
  @ParameterizedTest(name = "{0}, then {1}: {2} shows {3}")
  @CsvSource({
    "line t4e to m2e, '', t4e, approach", // main, next at stop
    "line m2e to c2e, line t4e to m2e, t4e, clear", // main, next at approach
    "line c2e to corvane-end, line m2e to c2e, m2e, clear", // main, next at approach
    "line c2e to mill-end, line m2e to c2e, m2e, approach-diverging", // next diverging-approach
    "line t6e to m2e, '', t6e, diverging-approach", // diverging, next at stop
    "line m2e to c2e, line t6e to m2e, t6e, diverging-clear", // diverging, next at approach
    "line t2e to t6e, line f4e to t2e, f4e, diverging-clear", // diverging, next diverging too
    "line t2e to t6e, line f2e to t2e, f2e, approach-diverging", // main, next diverging-approach
    "line t2e to t4e, line f2e to t2e, f2e, clear", // main, next at approach
    "line c2e to corvane-end, '', c2e, approach", // the track ends beyond
    "line c2e to j15, '', c2e, diverging-approach", // signalled track ends beyond
  })
  void signalShowsTheRungOfItsSpeed(String first, String then, String signal, String aspect) {
    var desk = Desk.demo();
    desk.order(first);
    desk.pass(2.0);
    if (!then.isEmpty()) {
      desk.order(then);
      desk.pass(2.0);
    }
    assertEquals(aspect, desk.shows(signal));
  }

  // C.5 rule 1, H.15: not the aspect the next signal is about to show, but the one it shows.
  @Test
  void aspectImprovesOnlyWhenTheNextSignalHasCleared() {
    var desk = Desk.demo();
    desk.lies("t2", REVERSE);
    desk.order("line t2e to t4e");
    assertEquals("approach", desk.shows("t2e"));
    desk.order("line t4e to m2e");
    assertEquals("stop", desk.shows("t4e"));
    assertEquals("approach", desk.shows("t2e"));
    desk.pass(1.0);
    assertEquals("approach", desk.shows("t4e"));
    assertEquals("clear", desk.shows("t2e"));
  }

  // C.5 rule 5, H.15: when the next signal falls, the one before falls to what stands before stop.
  @Test
  void aspectFallsInTheSameStepAsTheNextSignal() {
    var desk = Desk.demo();
    desk.order("line t4e to m2e");
    desk.order("line t2e to t4e");
    assertEquals("clear", desk.shows("t2e"));
    desk.order("cancel t4e");
    assertEquals("stop", desk.shows("t4e"));
    assertEquals("approach", desk.shows("t2e"));
  }

  // C.5 rule 3, H.15: a route over a switch set for the diverging leg never shows a straight
  // aspect,
  // and the signal before it never shows clear; for every route, with all further ones lined.
  @Test
  void divergingRouteIsNeverShownAsStraight() {
    var straight = List.of("approach", "clear", "approach-diverging");
    for (RouteRow route : Desk.Railroad.DEMO.table().routes().values()) {
      boolean diverges = route.switches().values().contains(REVERSE);
      for (String start : allLined(route).proceeding()) {
        var desk = allLined(route);
        var aspect = desk.shows(start);
        if (start.equals(route.from())) {
          assertEquals(diverges, !straight.contains(aspect), route.id());
        } else if (diverges && leadsTo(desk, start, route.from())) {
          assertFalse(aspect.equals("clear"), start + " before " + route.id());
        }
      }
    }
  }

  private static Desk allLined(RouteRow first) {
    var desk = Desk.demo();
    desk.line(first);
    for (RouteRow route : desk.table.routes().values()) {
      desk.tell("line " + route.from() + " to " + route.to());
      desk.pass(2.0);
    }
    return desk;
  }

  private static boolean leadsTo(Desk desk, String from, String next) {
    return desk.table.routesFrom(from).stream()
        .anyMatch(route -> route.to().equals(next) && desk.locked(route.id()));
  }

  // F.2 L1: every aspect that a signal has rungs for can be shown; and no other ever is.
  @Test
  void signalsCanShowExactlyWhatTheLaddersReach() {
    var reach = AspectReach.aspectsOf(Desk.Railroad.DEMO.table());
    Desk.Railroad.DEMO
        .layout()
        .signals()
        .forEach(
            (id, signal) -> {
              var wired = new TreeSet<>(signal.shows().keySet());
              wired.remove("stop");
              assertEquals(wired, new TreeSet<>(reach.getOrDefault(id, Set.of())), id);
            });
  }

  // F.2 L6: aspects depend on each other all round the loop, and still settle, whatever the order.
  @ParameterizedTest(name = "{0} is occupied")
  @CsvSource({
    "'', clear, clear, clear",
    "ab, stop, advance-approach, approach",
    "bc, approach, stop, advance-approach",
    "ca, advance-approach, approach, stop",
  })
  void loopShowsTheRightAspectsAllRound(String occupied, String a1, String b1, String c1) {
    for (var order :
        List.of(
            List.of("a1 to b1", "b1 to c1", "c1 to a1"),
            List.of("c1 to a1", "a1 to b1", "b1 to c1"))) {
      var desk = Desk.ready(LOOP, LOOP_RULES);
      order.forEach(way -> desk.order("line " + way));
      if (!occupied.isEmpty()) {
        desk.occupy(occupied);
      }
      assertEquals(
          List.of(a1, b1, c1), List.of(desk.shows("a1"), desk.shows("b1"), desk.shows("c1")));
    }
  }

  // A signal that is fed round the loop only by itself does not hold itself at clear.
  @Test
  void loopFallsRoundWhenOneSignalFalls() {
    var desk = Desk.ready(LOOP, LOOP_RULES);
    List.of("a1 to b1", "b1 to c1", "c1 to a1").forEach(way -> desk.order("line " + way));
    desk.order("cancel a1");
    assertEquals("stop", desk.shows("a1"));
    assertEquals("approach", desk.shows("c1"));
    assertEquals("advance-approach", desk.shows("b1"));
    assertTrue(desk.locked("a1-b1"));
  }
}
