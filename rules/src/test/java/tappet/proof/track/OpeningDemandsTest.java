package tappet.proof.track;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static tappet.network.Expression.is;

import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.network.Altered;
import tappet.network.Network;
import tappet.proof.Proof;
import tappet.proof.ProofMemory;
import tappet.proof.Property;
import tappet.proof.Verdict;
import tappet.proof.Watched;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/** An opening on a line of automatic signals, past which a train may come by sight as well. */
class OpeningDemandsTest {

  /** Two control points with a pair of automatic signals between them, and a gate before them. */
  private static final String LAYOUT =
      """
      layout: 1
      name: A gate on a line
      joints: {a: [0, 0], b: [2, 0], m: [4, 0], c: [6, 0], d: [8, 0]}
      sections:
        west: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        mid-1: {between: [b, m], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        mid-2: {between: [m, c], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        east: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
      signals:
        b2e: {at: b, into: mid-1, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
        b4w: {at: b, into: west, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
        m2e: {kind: automatic, at: m, into: mid-2, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01}}
        m2w: {kind: automatic, at: m, into: mid-1, shows: {stop: 0A.00.00.00.00.01.44.00, approach: 0A.00.00.00.00.01.44.01}}
        c2w: {at: c, into: mid-2, shows: {stop: 0A.00.00.00.00.01.45.00, approach: 0A.00.00.00.00.01.45.01}}
        c4e: {at: c, into: east, shows: {stop: 0A.00.00.00.00.01.46.00, approach: 0A.00.00.00.00.01.46.01}}
      openings:
        gate:
          kind: gate
          sections: [mid-1]
          closed: 0A.00.00.00.00.01.61.01
          open: 0A.00.00.00.00.01.61.00
          locked: 0A.00.00.00.00.01.62.01
          unlocked: 0A.00.00.00.00.01.62.00
          to: {lock: 0A.00.00.00.00.01.63.01, unlock: 0A.00.00.00.00.01.63.00}
      """;

  private static final String RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 5 s}
      routes:
        - {from: b2e, to: m2e, speed: main, release: 5 s}
        - {from: m2e, to: c4e, speed: main, automatic: yes}
        - {from: c4e, to: d, speed: main, release: 5 s}
        - {from: c2w, to: m2w, speed: main, release: 5 s}
        - {from: m2w, to: b4w, speed: main, automatic: yes}
        - {from: b4w, to: a, speed: main, release: 5 s}
      traffic:
        - {line: middle, sections: [mid-1, mid-2], eastward: [b2e, m2e], westward: [c2w, m2w]}
      aspects:
        main: {beyond stop: approach, beyond approach: approach}
      """;

  private static final String NOT_UNLOCKED =
      "opening gate is not unlocked while a train may come over it";

  private final Problems problems = new Problems();
  private final Layout layout = layout();

  private Layout layout() {
    Layout read = LayoutReader.read("layout.yaml", LAYOUT, problems).orElseThrow();
    assertEquals(List.of(), problems.sorted());
    return read;
  }

  private Network network() {
    var table = RuleReader.read("rules.yaml", RULES, layout, problems);
    assertEquals(List.of(), problems.sorted());
    return new Interlocking(layout, table.orElseThrow()).network();
  }

  /** The properties of the gate that a network breaks; all others are proven. */
  private Set<String> broken(Network network) {
    Watched whole = SafetyProperties.of(layout, network);
    List<Property> ofTheGate =
        whole.properties().stream()
            .filter(property -> property.kind() == Property.Kind.OPENING)
            .toList();
    return Proof.of(
            new Watched(whole.network(), ofTheGate, whole.happenings(), whole.assumptions()),
            ProofMemory.none(),
            (work, done, of) -> {})
        .findings()
        .stream()
        .filter(finding -> !(finding.verdict() instanceof Verdict.Proven))
        .map(finding -> finding.property().words())
        .collect(Collectors.toSet());
  }

  @Test
  void gateStaysLockedBeforeEveryTrainOfTheLine() {
    assertEquals(Set.of(), broken(network()));
  }

  // 49 CFR 236.312: the signals are no longer called after an emergency, and the train still comes.
  @Test
  void gateThatIsFreeWheneverNoSignalIsCalledIsFound() {
    Network network = network();
    Network faulty =
        Altered.with(
            network,
            "traffic middle: may come west",
            is(network.named("traffic middle: calls signals west")));
    assertEquals(Set.of(NOT_UNLOCKED), broken(faulty));
  }
}
