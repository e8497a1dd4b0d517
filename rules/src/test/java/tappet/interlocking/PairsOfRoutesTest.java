package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.rules.RouteRow;

/** Interlocking between routes: which may be locked at the same time. */
class PairsOfRoutesTest {

  private static final String PLAIN_TRACK =
      """
      layout: 1
      name: Plain track
      joints: {a: [0, 0], b: [2, 0], c: [4, 0], d: [6, 0]}
      sections:
        west: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        middle: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        east: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
      signals:
        b2e: {at: b, into: middle, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        c2w: {at: c, into: middle, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
      """;

  private static final String PLAIN_RULES =
      """
      rules: 1
      routes:
        - {from: b2e, to: d, speed: main, release: 5 s}
        - {from: c2w, to: a, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach}
      """;

  // 49 CFR 236.304: conflicting requests are never both granted, in any order. F.1 S7; H.18: pairs
  // that do not conflict are granted, so that none is safe for being dead.
  @Test
  void pairIsLockedTogetherExactlyWhenThePlanAllowsIt() {
    var routes = List.copyOf(Desk.Railroad.DEMO.table().routes().values());
    var wrong = new ArrayList<String>();
    for (RouteRow first : routes) {
      for (RouteRow second : routes) {
        if (!first.equals(second) && together(first, second) != mayBeTogether(first, second)) {
          wrong.add(first.id() + " and then " + second.id());
        }
      }
    }
    assertEquals(List.of(), wrong);
  }

  private static boolean together(RouteRow first, RouteRow second) {
    var desk = Desk.demo();
    desk.line(first);
    desk.tell("line " + second.from() + " to " + second.to());
    assertTrue(desk.locked(first.id()));
    return desk.locked(second.id());
  }

  private static boolean mayBeTogether(RouteRow one, RouteRow other) {
    return Collections.disjoint(sectionsOf(one), sectionsOf(other))
        && one.switches().entrySet().stream().noneMatch(toe -> contradicts(toe, other))
        && !one.conflicts().contains(other.id())
        && !other.conflicts().contains(one.id());
  }

  private static boolean contradicts(Map.Entry<String, ?> toe, RouteRow other) {
    var there = other.switches().get(toe.getKey());
    return there != null && there != toe.getValue();
  }

  /** Walks the plan with the row's switches set, whatever path the rule reader found. */
  private static Set<String> sectionsOf(RouteRow row) {
    var plan = new TrackPlan(Desk.Railroad.DEMO.layout());
    var signal = plan.layout().signals().get(row.from());
    var end = row.nextSignal().map(next -> plan.layout().signals().get(next).at()).orElse(row.to());
    var walked = new ArrayList<Track>();
    var at = signal.at();
    var ahead = plan.into(at, signal.into());
    while (walked.isEmpty() || !at.equals(end)) {
      var over = ahead.stream().filter(track -> passable(track, row)).findFirst().orElseThrow();
      walked.add(over);
      at = over.otherEnd(at);
      ahead = plan.onwards(over, at);
    }
    return walked.stream().map(Track::section).collect(Collectors.toSet());
  }

  private static boolean passable(Track track, RouteRow row) {
    return track.leg().stream()
        .allMatch(leg -> row.switches().get(leg.switchId()) == leg.position());
  }

  // 49 CFR 236.308, 236.403, 236.773: opposing, converging and diverging movements conflict; a
  // following movement and one on another track do not.
  @ParameterizedTest
  @CsvSource({
    "t2e to t4e, t8w to t4w, false", // opposing on the main
    "t2e to t6e, t8w to t6w, false", // opposing in the siding
    "f2e to t2e, t4w to f6w, false", // opposing between stations
    "m2e to c2e, m2w to t8w, false", // opposing from one place, declared by one row only
    "t4e to m2e, t6e to m2e, false", // converging on one switch
    "c4w to m2w, c8w to m2w, false", // converging on a junction
    "t2e to t4e, t2e to t6e, false", // diverging from one signal
    "f2e to t2e, t2e to t4e, true", // following
    "t2e to t4e, t8w to t6w, true", // a meet
    "f2e to t2e, c4w to m2w, true", // far apart
  })
  void movementsThatWouldCollideAreNotLinedTogether(String one, String other, boolean allowed) {
    for (var order : List.of(List.of(one, other), List.of(other, one))) {
      var desk = Desk.demo();
      desk.order("line " + order.get(0));
      desk.pass(2.0);
      assertEquals(allowed, desk.tell("line " + order.get(1)).granted(), order::toString);
      desk.pass(2.0);
      assertEquals(allowed ? 2 : 1, desk.proceeding().size(), order::toString);
    }
  }

  // H.1: opposing routes with equal switch positions, here with none at all.
  @Test
  void opposingRoutesOverPlainTrackExcludeEachOther() {
    var desk = Desk.ready(PLAIN_TRACK, PLAIN_RULES);
    desk.order("line b2e to d");
    assertFalse(desk.tell("line c2w to a").granted());
    assertEquals(List.of("b2e"), desk.proceeding());

    var other = Desk.ready(PLAIN_TRACK, PLAIN_RULES);
    other.order("line c2w to a");
    assertFalse(other.tell("line b2e to d").granted());
    assertEquals(List.of("c2w"), other.proceeding());
  }

  // 49 CFR 236.404: opposing signals of neighbouring control points never both show proceed over
  // one track.
  @Test
  void opposingSignalsOfNeighbouringControlPointsNeverProceedTogether() {
    var desk = Desk.demo();
    desk.order("line f2e to t2e");
    desk.order("line t8w to t4w");
    assertFalse(desk.tell("line t4w to f6w").granted());
    assertEquals(List.of("f2e", "t8w"), desk.proceeding());
  }

  // H.6: two requests at one moment; the second sees what the first has taken.
  @Test
  void secondOfTwoRequestsAtOneMomentSeesTheFirst() {
    var desk = Desk.demo();
    assertTrue(desk.tell("line c4w to m2w").granted());
    assertFalse(desk.tell("line c6w to m2w").granted());
    assertTrue(desk.locked("c4w-m2w"));
    assertFalse(desk.locked("c6w-m2w"));
  }

  // H.18, F.2 L1: each route can be lined and clears its signal.
  @Test
  void everyRouteCanBeLinedAndClearsItsSignal() {
    for (RouteRow route : Desk.Railroad.DEMO.table().routes().values()) {
      var desk = Desk.demo();
      desk.line(route);
      assertEquals(List.of(route.from()), desk.proceeding(), route.id());
    }
  }
}
