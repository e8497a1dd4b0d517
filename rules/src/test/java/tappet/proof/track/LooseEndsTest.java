package tappet.proof.track;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Finding;
import tappet.proof.Proof;
import tappet.proof.ProofMemory;
import tappet.proof.Property;
import tappet.proof.Reach;
import tappet.proof.Verdict;
import tappet.proof.Watched;
import tappet.rules.Ring;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** What a layout and its rules leave open is told, and nothing else. */
class LooseEndsTest {

  /**
   * A line run eastward past three signals, the second of them near the third; behind it a switch
   * to a spur. One signal faces the other way; no signal leads as far as the yard.
   */
  private static final String LINE =
      """
      layout: 1
      name: A line
      joints: {y: [-2, 0], z: [0, 0], a: [2, 0], b: [4, 0], c: [6, 0], d: [8, 0], e: [8, 1]}
      sections:
        yard: {between: [y, z], length: 1 m, occupied: 0A.00.00.00.00.01.0F.01, clear: 0A.00.00.00.00.01.0F.00}
        outside: {between: [z, a], length: 1 m, occupied: 0A.00.00.00.00.01.10.01, clear: 0A.00.00.00.00.01.10.00}
        far: {between: [a, b], length: 2 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        near: {between: [b, c], length: 0.5 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        os: {length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
      switches:
        s:
          section: os
          points: c
          normal: d
          reverse: e
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
      signals:
        first: {at: a, into: far, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, clear: 0A.00.00.00.00.01.41.02, advance-approach: 0A.00.00.00.00.01.41.03}}
        second: {at: b, into: near, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01, clear: 0A.00.00.00.00.01.42.02, advance-approach: 0A.00.00.00.00.01.42.03}}
        third: {at: c, into: os, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01}}
        back: {at: d, into: os, shows: {stop: 0A.00.00.00.00.01.44.00, approach: 0A.00.00.00.00.01.44.01}}
      """;

  private static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: first, to: second, speed: main, release: 5 s}
        - {from: second, to: third, speed: main, release: 5 s}
        - {from: third, to: d, switches: {s: normal}, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach, beyond approach: clear, beyond clear: clear}
      """;

  private static final String RULES_THAT_WARN =
      RULES.replace(
          "beyond approach: clear,",
          "beyond approach: advance-approach, beyond advance-approach: clear,");

  private static final String RING_RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: p, to: q, speed: main, release: 5 s}
        - {from: q, to: p, speed: main, release: 5 s}
      aspects:
        main: {beyond stop: approach, beyond approach: clear, beyond clear: clear}
      """;

  private static Layout layout(String text) {
    Problems problems = new Problems();
    Layout layout = LayoutReader.read("layout.yaml", text, problems).orElseThrow();
    assertEquals(List.of(), problems.sorted());
    return layout;
  }

  private static Watched watched(String plan, String rules) {
    Layout layout = layout(plan);
    Problems problems = new Problems();
    var table = RuleReader.read("rules.yaml", rules, layout, problems);
    assertEquals(List.of(), problems.sorted());
    return SafetyProperties.of(layout, new Interlocking(layout, table.orElseThrow()).network());
  }

  private static LooseEnds looseEnds(String rules, Optional<Double> stoppingMetres) {
    return LooseEnds.of(layout(LINE), watched(LINE, rules), stoppingMetres);
  }

  /** What is found when the proof answers every question. */
  private static List<String> found(String rules, Optional<Double> stoppingMetres) {
    LooseEnds ends = looseEnds(rules, stoppingMetres);
    Set<Variable> asked = new LinkedHashSet<>();
    ends.found(
        variable -> {
          asked.add(variable);
          return Reach.CAN;
        });
    Map<Variable, Reach> answers = answers(ends.watched(), asked);
    List<LooseEnd> found = ends.found(answers::get);
    assertTrue(found.stream().allMatch(LooseEnd::certain), found.toString());
    return found.stream().map(LooseEnd::text).toList();
  }

  private static Map<Variable, Reach> answers(Watched watched, Set<Variable> asked) {
    NetworkBuilder network = NetworkBuilder.extending(watched.network());
    Map<String, Variable> byWords = new LinkedHashMap<>();
    List<Property> never =
        asked.stream()
            .map(
                variable -> {
                  String words = "never: " + variable.name();
                  byWords.put(words, variable);
                  Variable holds =
                      network.equation(words, Words.through(), Expression.not(variable));
                  return new Property(Property.Kind.CLEAR_WAY, words, holds, variable);
                })
            .toList();
    Map<Variable, Reach> answers = new LinkedHashMap<>();
    for (Finding finding :
        Proof.of(
                new Watched(network.build(), never, watched.happenings(), watched.assumptions()),
                ProofMemory.none(),
                (work, done, of) -> {})
            .findings()) {
      answers.put(byWords.get(finding.property().words()), reach(finding.verdict()));
    }
    return answers;
  }

  private static Reach reach(Verdict neverTrue) {
    if (neverTrue instanceof Verdict.Proven) {
      return Reach.NEVER;
    }
    return neverTrue instanceof Verdict.Disproven ? Reach.CAN : Reach.NOT_FOUND;
  }

  // Without a stopping distance nothing is said of warnings.
  @Test
  void signalsWaysAspectsAndSectionsThatNothingLeadsToAreTold() {
    assertEquals(
        List.of(
            "signal first never shows advance-approach",
            "signal second never shows advance-approach",
            "signal third never clears over third to e, s reverse",
            "signal back never clears",
            "no signal protects section yard"),
        found(RULES, Optional.empty()));
  }

  // 49 CFR 236.24: spacing of signals, "adequate for trains to stop". The numbers are invented.
  @Test
  void signalNearerThanTheStoppingDistanceIsToldIfTheOneBeforeDoesNotWarn() {
    assertEquals(
        List.of(
            "signal third may be at Stop 0.50 m beyond signal second, and before that there is"
                + " signal first, which does not warn of it (first to second; second to third)"),
        onlyWarnings(found(RULES, Optional.of(1.2))));
  }

  @Test
  void warningByTheSignalBeforeIsEnough() {
    assertEquals(List.of(), onlyWarnings(found(RULES_THAT_WARN, Optional.of(1.2))));
  }

  @Test
  void signalFartherThanTheStoppingDistanceNeedsNoMoreWarning() {
    assertEquals(List.of(), onlyWarnings(found(RULES, Optional.of(0.5))));
  }

  // 2.5 m from the first signal to the third: nothing can warn 3 m before.
  @Test
  void warningThatNoSignalCanGiveIsTold() {
    assertEquals(
        List.of(
            "signal second may be at Stop 2.00 m beyond signal first, and before that there is"
                + " no signal that could warn of it (first to second)",
            "signal third may be at Stop 2.50 m beyond signal first, and before that there is"
                + " no signal that could warn of it (first to second; second to third)"),
        onlyWarnings(found(RULES_THAT_WARN, Optional.of(3.0))));
  }

  // A train that goes round has passed every signal there is.
  @Test
  void loopShorterThanTheStoppingDistanceIsToldAndNotRunForEver() {
    LooseEnds ends =
        LooseEnds.of(layout(Ring.LAYOUT), watched(Ring.LAYOUT, RING_RULES), Optional.of(100.0));
    List<String> all = ends.found(any -> Reach.CAN).stream().map(LooseEnd::text).toList();
    assertEquals(
        List.of(
            "signal q may be at Stop 2.00 m beyond signal q, and before that there is no signal"
                + " that could warn of it (q to p; p to q)",
            "signal p may be at Stop 2.00 m beyond signal p, and before that there is no signal"
                + " that could warn of it (p to q; q to p)"),
        all);
  }

  private static List<String> onlyWarnings(List<String> found) {
    return found.stream().filter(line -> line.contains("may be at Stop")).toList();
  }

  @Test
  void whatIsNotFoundIsSaidApartFromWhatIsProven() {
    List<LooseEnd> found = looseEnds(RULES, Optional.of(1.2)).found(any -> Reach.NOT_FOUND);
    LooseEnd never = named("signal first never clears", found);
    assertFalse(never.certain());
    assertEquals("signal first", never.device());
    assertTrue(never.text().endsWith("(not certain: there is neither a story nor a proof)"));
    assertTrue(found.stream().anyMatch(end -> end.words().contains("may be at Stop")));
    assertTrue(named("no signal protects section yard", found).certain());
  }

  private static LooseEnd named(String words, List<LooseEnd> found) {
    return found.stream().filter(end -> end.words().equals(words)).findFirst().orElseThrow();
  }

  @Test
  void questionsChangeNothingOfWhatIsProven() {
    Watched before = watched(LINE, RULES);
    Watched after = LooseEnds.of(layout(LINE), before, Optional.of(1.2)).watched();
    List<Variable> known = before.network().variables();
    assertEquals(before.properties(), after.properties());
    assertEquals(known, after.network().variables().subList(0, known.size()));
    assertTrue(after.network().variables().size() > known.size());
  }

  @ParameterizedTest
  @CsvSource({"0", "-1", "NaN"})
  void stoppingDistanceIsAboveZero(double metres) {
    assertThrows(IllegalArgumentException.class, () -> looseEnds(RULES, Optional.of(metres)));
  }
}
