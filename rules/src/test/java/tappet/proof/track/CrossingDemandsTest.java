package tappet.proof.track;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.Expression.never;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.network.Altered;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.Proof;
import tappet.proof.ProofMemory;
import tappet.proof.Property;
import tappet.proof.Reach;
import tappet.proof.Story;
import tappet.proof.Verdict;
import tappet.proof.Watched;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/**
 * S17 of the interlocking sheet, F.1 (Transport Canada, Grade Crossings Standards, 16; 49 CFR
 * 234.225): the road is warned before a train comes, and long enough before one is let go.
 */
class CrossingDemandsTest {

  /** A road across a single track, with a signal on each side of it. */
  private static final String LAYOUT =
      """
      layout: 1
      name: A road
      joints: {a: [0, 0], b: [2, 0], c: [3, 0], d: [5, 0]}
      sections:
        west: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        road: {between: [b, c], length: 30 cm, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        east: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
      signals:
        e: {at: b, into: road, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        w: {at: c, into: road, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
      grade crossings:
        bells: {island: road, warn: 0A.00.00.00.00.01.A1.01, rest: 0A.00.00.00.00.01.A1.00}
      """;

  private static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: e, to: d, speed: main, release: 5 s}
        - {from: w, to: a, speed: main, release: 5 s}
      grade crossings:
        - {crossing: bells, approaches: [[west], [east]], warning: 10 s, started by: [e-d, w-a]}
      aspects:
        main: {beyond stop: approach}
      """;

  private static final String ON_IT = "grade crossing bells warns while a train is on it";
  private static final String BEFORE_E =
      "grade crossing bells warns while a train is before it that comes by e to d";
  private static final String BEFORE_W =
      "grade crossing bells warns while a train is before it that comes by w to a";
  private static final String TIME_BEFORE_E =
      "grade crossing bells has warned for its time before e to d is given";
  private static final String TIME_BEFORE_W =
      "grade crossing bells has warned for its time before w to a is given";

  private final Problems problems = new Problems();

  private Layout layout(String text) {
    Layout layout = LayoutReader.read("layout.yaml", text, problems).orElseThrow();
    assertEquals(List.of(), problems.sorted());
    return layout;
  }

  private Network network(Layout layout, String rules) {
    var table = RuleReader.read("rules.yaml", rules, layout, problems);
    assertEquals(List.of(), problems.sorted());
    return new Interlocking(layout, table.orElseThrow()).network();
  }

  /** By the words of each property of the road: what happens in its story; nothing if proven. */
  private Map<String, List<String>> stories(Network network) {
    Watched whole = SafetyProperties.of(layout(LAYOUT), network);
    List<Property> ofTheRoad =
        whole.properties().stream()
            .filter(property -> property.kind() == Property.Kind.ROAD)
            .toList();
    Proof proof =
        Proof.of(
            new Watched(whole.network(), ofTheRoad, whole.happenings(), whole.assumptions()),
            ProofMemory.none(),
            (work, done, of) -> {});
    Map<String, List<String>> stories = new LinkedHashMap<>();
    proof
        .findings()
        .forEach(
            finding -> {
              assertEquals(Reach.CAN, proof.reach(finding.property().premise()));
              stories.put(finding.property().words(), story(finding.verdict()));
            });
    return stories;
  }

  private static List<String> story(Verdict verdict) {
    if (verdict instanceof Verdict.Disproven told) {
      return told.story().moments().stream().map(Story.Moment::words).toList();
    }
    assertTrue(verdict instanceof Verdict.Proven, verdict.toString());
    return List.of();
  }

  private static Set<String> broken(Map<String, List<String>> stories) {
    return stories.keySet().stream()
        .filter(words -> !stories.get(words).isEmpty())
        .collect(Collectors.toSet());
  }

  @Test
  void roadIsWarnedOnBothSidesAndLongEnough() {
    Map<String, List<String>> stories = stories(network(layout(LAYOUT), RULES));
    assertEquals(Set.of(ON_IT, BEFORE_E, BEFORE_W, TIME_BEFORE_E, TIME_BEFORE_W), stories.keySet());
    assertEquals(Set.of(), broken(stories));
  }

  @Test
  void approachThatTheRulesForgetIsFound() {
    String forgotten = RULES.replace("[[west], [east]]", "[[west]]").replace(", w-a]", "]");
    Map<String, List<String>> stories = stories(network(layout(LAYOUT), forgotten));
    assertEquals(Set.of(BEFORE_W, TIME_BEFORE_W), broken(stories));
  }

  // Transport Canada, 16.4: the directional stick is for a train that leaves.
  @Test
  void trainThatComesBackOnASignalIsMissedWhereTheStickOutlivesItsRoute() {
    Network network = network(layout(LAYOUT), RULES);
    Network faulty = Altered.with(network, "grade crossing bells: leads from east", never());
    assertTrue(broken(stories(faulty)).contains(BEFORE_W));
  }

  @Test
  void signalThatDoesNotWaitForTheWarningIsFound() {
    Network network = network(layout(LAYOUT), RULES);
    Network faulty =
        Altered.with(network, "route w-a: proved", withoutWarning(network, "route w-a: proved"));
    assertEquals(Set.of(BEFORE_W, TIME_BEFORE_W), broken(stories(faulty)));
  }

  private static Expression withoutWarning(Network network, String equation) {
    Variable warned = network.named("grade crossing bells: warning time has run");
    List<Expression> parts =
        ((Expression.All) network.equations().get(network.named(equation))).parts();
    List<Expression> others =
        parts.stream().filter(part -> !part.variables().contains(warned)).toList();
    assertEquals(parts.size() - 1, others.size());
    return Expression.all(others);
  }

  /** A rule that names nobody who may stand there is no reason not to warn one who has. */
  @Test
  void roadIsWarnedLongEnoughWhateverTheRulesSayOfTrainsThatStand() {
    String nobodyStands = RULES.replace(", started by: [e-d, w-a]", "");
    assertEquals(Set.of(), broken(stories(network(layout(LAYOUT), nobodyStands))));
  }

  @Test
  void sideFromWhichNoSignalLeadsIsToldAsAnAssumption() {
    String oneWay = LAYOUT.replaceAll("  w: .*\n", "");
    String rules = RULES.replaceAll("  - \\{from: w.*\n", "").replace(", w-a]", "]");
    Layout layout = layout(oneWay);
    Watched watched = SafetyProperties.of(layout, network(layout, rules));
    assertTrue(
        watched
            .assumptions()
            .contains(
                "S17: no signal sends a train over grade crossing bells from east: nothing is"
                    + " proved of what warns of it there"));
    assertTrue(
        watched
            .assumptions()
            .contains(
                "S17: 10.0 s of warning are enough before a train that has stood at grade crossing"
                    + " bells goes on, as the rules have it"));
  }
}
