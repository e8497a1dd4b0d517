package tappet.rules;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.TrackPlan;
import tappet.source.Problems;

/** Ways from signal to signal, read off the drawing at the top of the plain layout. */
class RouteFinderTest {

  @ParameterizedTest(name = "from {0}")
  @CsvSource(
      delimiter = '|',
      value = {
        "f2e | t2e: fallow-os west-main [s1 normal]",
        "f4e | t2e: fallow-os west-main [s1 reverse]",
        "f6w | fallow-1-end: fallow-os fallow-1 [s1 normal]; fallow-2-end: fallow-os fallow-2 [s1 reverse]",
        "t2e | t4e: tilling-w tilling-main [t1 normal]; t6e: tilling-w tilling-siding [t1 reverse]",
        "t4e | m2e: tilling-e mid-west [t2 normal]",
        "t6e | m2e: tilling-e mid-west [t2 reverse]",
        "t4w | f6w: tilling-w west-main [t1 normal]",
        "t6w | f6w: tilling-w west-main [t1 reverse]",
        "t8w | t4w: tilling-e tilling-main [t2 normal]; t6w: tilling-e tilling-siding [t2 reverse]",
        "m2e | c2e: mid-east []",
        "m2w | t8w: mid-west []",
        "c2e | corvane-end: corvane-w corvane-main [c1 normal, c2 normal]; mill-end: corvane-w mill-branch [c1 normal, c2 reverse]; "
            + "yard-1: corvane-w yard-lead yard-throat [c1 reverse, y1 reverse]; yard-2: corvane-w yard-lead yard-throat [c1 reverse, y1 normal, y2 reverse]; "
            + "yard-3: corvane-w yard-lead yard-throat [c1 reverse, y1 normal, y2 normal, y3 reverse]; yard-4: corvane-w yard-lead yard-throat [c1 reverse, y1 normal, y2 normal, y3 normal]",
        "c4w | m2w: corvane-w mid-east [c2 normal, c1 normal]",
        "c6w | m2w: corvane-w mid-east [c2 reverse, c1 normal]",
        "c8w | m2w: corvane-w mid-east [c1 reverse]",
      })
  void everyWayOfTheDemoIsFound(String signal, String ways) {
    var paths = RouteFinder.pathsFrom(Demo.LAYOUT.signals().get(signal), Demo.PLAN);
    assertEquals(
        new TreeSet<>(List.of(ways.split("; "))),
        paths.stream().map(RouteFinderTest::told).collect(Collectors.toCollection(TreeSet::new)));
  }

  @Test
  void tableAboveNamesEverySignal() {
    assertEquals(15, Demo.LAYOUT.signals().size());
  }

  @ParameterizedTest
  @CsvSource({
    "c2e, j15, 'j15: corvane-w yard-lead [c1 reverse]'", // signalled track ends at a joint
    "t2e, t4e, 't4e: tilling-w tilling-main [t1 normal]'",
    "t2e, m2e, ''", // another signal stands before
    "t2e, nowhere, ''",
    "t2e, t2e, ''",
    "t4e, t2e, ''", // behind it
  })
  void wayBetweenTwoPlacesPassesNoSignal(String from, String to, String way) {
    var paths = RouteFinder.pathsBetween(Demo.LAYOUT.signals().get(from), to, Demo.PLAN);
    assertEquals(way, paths.stream().map(RouteFinderTest::told).collect(Collectors.joining("; ")));
  }

  // Each switch of a row is met by the way, and the other way round (D.3, check 3).
  @Test
  void rowsOfTheDemoAreWaysOfItsPlan() {
    var table =
        RuleReader.read(
                "rules.yaml", Demo.text(Demo.PLAIN, "rules.yaml"), Demo.LAYOUT, new Problems())
            .orElseThrow();
    for (RouteRow row : table.routes().values()) {
      var ways =
          RouteFinder.pathsBetween(Demo.LAYOUT.signals().get(row.from()), row.to(), Demo.PLAN);
      assertEquals(
          Set.of(true),
          ways.stream()
              .filter(way -> way.switches().equals(row.switches()))
              .map(way -> way.sections().equals(row.path()))
              .collect(Collectors.toSet()),
          row.id());
    }
  }

  // A loop of track with one signal: the way comes round to the signal it started from.
  @Test
  void wayRoundALoopEndsAtItsOwnSignal() {
    var layout =
        Demo.layoutOf(
            """
            layout: 1
            name: Round
            joints: {a: [0, 0], b: [4, 0]}
            sections:
              there: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
              back: {between: [b, a], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
            signals:
              s: {at: a, into: there, shows: {stop: 0A.00.00.00.00.01.41.00, clear: 0A.00.00.00.00.01.41.01}}
            """);
    var paths = RouteFinder.pathsFrom(layout.signals().get("s"), new TrackPlan(layout));
    assertEquals(List.of("s: there back []"), paths.stream().map(RouteFinderTest::told).toList());
  }

  // A loop without a signal on the way: it ends somewhere, and runs over nothing twice.
  @Test
  void wayIntoALoopWithoutSignalsDoesNotGoRoundWithoutEnd() {
    var layout =
        Demo.layoutOf(
            """
            layout: 1
            name: Balloon
            joints: {a: [0, 0], p: [2, 0], n: [4, 1], r: [4, -1]}
            sections:
              lead: {between: [a, p], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
              os: {length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
              loop: {between: [n, r], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
            switches:
              w:
                section: os
                points: p
                normal: n
                reverse: r
                to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
                at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
            signals:
              e: {at: p, into: os, shows: {stop: 0A.00.00.00.00.01.41.00, clear: 0A.00.00.00.00.01.41.01}}
              x: {at: r, into: os, shows: {stop: 0A.00.00.00.00.01.42.00, clear: 0A.00.00.00.00.01.42.01}}
            """);
    var plan = new TrackPlan(layout);
    var paths = RouteFinder.pathsFrom(layout.signals().get("e"), plan);
    assertEquals(
        List.of("x: os loop [w normal]"), paths.stream().map(RouteFinderTest::told).toList());
  }

  private static String told(RoutePath path) {
    var switches =
        path.switches().entrySet().stream()
            .map(toe -> toe.getKey() + " " + toe.getValue().word())
            .toList();
    return path.to() + ": " + String.join(" ", path.sections()) + " " + switches;
  }
}
