package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.layout.LayoutReader;
import tappet.rules.RuleReader;
import tappet.source.Problem;
import tappet.source.Problems;

/** A repeater, a signal that is dark until a train comes, and rules that do not fit lamps. */
class RepeaterTest {

  private static final String LAYOUT =
      """
      layout: 1
      name: Repeater
      joints: {j0: [0, 0], j1: [2, 0], j2: [4, 0], j3: [6, 0], j4: [8, 0]}
      sections:
        s0: {between: [j0, j1], length: 1 m, occupied: 0A.00.00.00.00.01.10.01, clear: 0A.00.00.00.00.01.10.00}
        s1: {between: [j1, j2], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        s2: {between: [j2, j3], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        s3: {between: [j3, j4], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
      restriction: [stop, approach, clear]
      looks: {one: {stop: [red], approach: [yellow], clear: [green]}}
      signals:
        a1: {at: j1, into: s1, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, clear: 0A.00.00.00.00.01.41.02}}
        r2: {at: j2, into: s2, repeats: a3, looks: one, lamps: [{red: {lit: 0A.00.00.00.00.01.51.01, dark: 0A.00.00.00.00.01.51.00}, yellow: {lit: 0A.00.00.00.00.01.52.01, dark: 0A.00.00.00.00.01.52.00}, green: {lit: 0A.00.00.00.00.01.53.01, dark: 0A.00.00.00.00.01.53.00}, failed: 0A.00.00.00.00.01.54.01, works: 0A.00.00.00.00.01.54.00}]}
        a3: {kind: automatic, at: j3, into: s3, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01, clear: 0A.00.00.00.00.01.43.02}, dark: 0A.00.00.00.00.01.43.03}
      """;

  private static final String RULES =
      """
      rules: 1
      routes:
        - {from: a1, to: a3, speed: main, release: 5 s}
        - {from: a3, to: j4, speed: main, release: 5 s}
      aspects: {main: {beyond stop: approach, beyond approach: clear, beyond clear: clear}}
      lights: [{signal: a3, when: section s2 is occupied}]
      """;

  // A route runs past the repeater to the signal it repeats (common practice, no source).
  @Test
  void repeaterShowsWhatTheOtherSignalDoesAndEndsNoRoute() {
    Desk desk = Desk.ready(LAYOUT, RULES);
    assertEquals(List.of("s1", "s2"), desk.route("a1-a3").path());
    assertEquals("stop", desk.shows("r2"));
    desk.order("line a3 to j4");
    assertEquals("approach", desk.shows("r2"));
    assertTrue(desk.why("r2").contains("it repeats signal a3: signal a3 shows approach"));
    assertFalse(desk.tell("line r2 to a3").granted());
    desk.order("cancel a3");
    assertEquals("stop", desk.shows("r2"));
    assertTrue(desk.why("a3").startsWith("signal a3 shows stop-and-proceed"), desk.why("a3"));
  }

  // 49 CFR 236.23: the one lamp of a searchlight head serves all its colours.
  @Test
  void repeaterWhoseLampIsOutRepeatsNothing() {
    Desk desk = Desk.ready(LAYOUT, RULES);
    desk.order("line a3 to j4");
    desk.lamp("r2", "lamp", false);
    assertEquals("stop", desk.shows("r2"));
    assertTrue(desk.why("r2").contains("lamp of signal r2 has failed"), desk.why("r2"));
    desk.lamp("r2", "lamp", true);
    assertEquals("approach", desk.shows("r2"));
  }

  // H.16: approach lighting, sheet section B: the logic keeps its aspect while the lamps are dark.
  @Test
  void darkSignalIsNotAtStop() {
    Desk desk = Desk.ready(LAYOUT, RULES);
    desk.order("line a3 to j4");
    desk.order("line a1 to a3");
    assertTrue(desk.interlocking.dark("a3"));
    assertEquals("approach", desk.interlocking.aspect("a3"));
    assertEquals("clear", desk.shows("a1"));
    desk.occupy("s2");
    assertFalse(desk.interlocking.dark("a3"));
    assertEquals("approach", desk.shows("a3"));
  }

  // 49 CFR 236.5: a section that says nothing may have a train in it.
  @Test
  void signalIsLitWhereItsApproachIsNotKnown() {
    Desk desk = Desk.started(Desk.Railroad.read(LAYOUT, RULES));
    assertFalse(desk.interlocking.dark("a3"));
    desk.allClear();
    desk.steady();
    assertTrue(desk.interlocking.dark("a3"));
    desk.unknown("s2");
    assertFalse(desk.interlocking.dark("a3"));
    assertTrue(desk.outputs().contains(new Output.Dark("a3")));
  }

  @Test
  void rulesThatDoNotFitAreRefused() {
    assertEquals(
        List.of(
            "rules.yaml:3:12: signal r2 is a repeater; no route starts or ends there;"
                + " name the signal it repeats: 'a3'"),
        problems(LAYOUT, RULES.replace("from: a1, to: a3", "from: r2, to: a3")));
    assertEquals(
        List.of(
            "rules.yaml:3:20: signal r2 is a repeater; no route starts or ends there;"
                + " name the signal it repeats: 'a3'"),
        problems(LAYOUT, RULES.replace("from: a1, to: a3", "from: a1, to: r2")));
    assertEquals(
        List.of(
            "layout.yaml:13:3: signal r2 can come to show approach, for which the layout has no"
                + " lights; add 'approach: [<a light for each head>]' to looks 'one' in the layout"
                + " file"),
        problems(LAYOUT.replace("approach: [yellow], ", ""), RULES));
    assertEquals(
        List.of(
            "rules.yaml:5:11: the aspects of 'main' show approach beyond stop, which allows more"
                + " than clear beyond approach; let the most restrictive stand beyond stop, or put"
                + " 'restriction' right in the layout file"),
        problems(LAYOUT.replace("[stop, approach, clear]", "[stop, clear, approach]"), RULES));
  }

  private static List<String> problems(String layoutText, String rulesText) {
    Problems problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", layoutText, problems).orElseThrow();
    assertTrue(RuleReader.read("rules.yaml", rulesText, layout, problems).isEmpty());
    return problems.sorted().stream().map(Problem::toString).toList();
  }
}
