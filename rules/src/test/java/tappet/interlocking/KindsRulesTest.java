package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.LayoutReader;
import tappet.layout.TrackPlan;
import tappet.rules.RouteFinder;
import tappet.rules.RuleReader;
import tappet.source.Problem;
import tappet.source.Problems;

/** Mistakes that only rules for other kinds of switches can have, and the ways over them. */
class KindsRulesTest {

  // D.3, load-time checks 1 to 3; 49 CFR 236.12–13, 236.16.
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      switches: {d1: reverse}                  | switches: {d1: normal}                  | with switch d1 normal one does not come to y; write 'd1: reverse'
      switches: {d1: reverse}                  | switches: {quarry: normal, d1: reverse} | switches quarry and d1 move together and cannot lie apart; write 'd1: normal', or leave it out
      switches: {x1b: reverse}                 | flank: {x1b: reverse}                   | the way from e2e to z2 runs over switch x1, and the row does not say how it lies; add 'x1: reverse' under switches
      speed: main, release: 5 s, needs         | switches: {sp: reverse}, speed: main, release: 5 s, needs | the way from s2e to e2e trails through sprung switch sp, which the train opens itself; take it out
      release section: quarry-track, approach: [west, mid, quarry-track] | release section: quarry-track | a train on section quarry-track may be another than the one that comes; list the sections of the approach: 'approach: [west-main, east-main]'
      release section: quarry-track            | release section: spur-lead              | a train on section spur-lead does not stand on the main track at switch quarry; a release section is quarry-track, west or mid
      - {switch: quarry, release time: 8 s     | - {switch: h1, release time: 8 s        | switch 'h1' has no electric lock; the only one is quarry
      """)
  void mistakeIsTold(String right, String wrong, String message) {
    var rules = Kinds.RULES.replace(right, wrong);
    var told = told(rules);
    assertTrue(told.stream().anyMatch(one -> one.endsWith(": " + message)), told::toString);
  }

  // D.3, 2: the ends of one crossover are never asked to lie apart.
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      e2e | g2e [x1-os, end-1] {x1=NORMAL}; z2 [x1-os, x2-os, end-2] {x1=REVERSE, x1b=REVERSE}
      s2e | e2e [sp-os, east] {}
      c2e | e2e [sp-os, east] {sp=NORMAL}
      q2w | y [spur-lead, quarry-track, west] {d1=REVERSE, quarry=REVERSE}
      """)
  void waysOverEveryKindAreFound(String signal, String ways) {
    var layout = Kinds.RAILROAD.layout();
    var plan = new TrackPlan(layout);
    var found =
        RouteFinder.pathsFrom(layout.signals().get(signal), plan).stream()
            .map(way -> way.to() + " " + way.sections() + " " + way.switches())
            .toList();
    assertEquals(List.of(ways.split("; ")), found);
  }

  @Test
  void lockWithoutARowIsTold() {
    var rules = Kinds.RULES.substring(0, Kinds.RULES.indexOf("locks:"));
    assertEquals(
        List.of(
            "rules.yaml:1:1: switch 'quarry' has an electric lock, and 'locks' does not say how it"
                + " is released; add under locks: {switch: quarry, release time: 8 s}"),
        told(rules));
  }

  private static List<String> told(String rules) {
    var problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", Kinds.LAYOUT, problems).orElseThrow();
    RuleReader.read("rules.yaml", rules, layout, problems);
    return problems.sorted().stream().map(Problem::toString).toList();
  }
}
