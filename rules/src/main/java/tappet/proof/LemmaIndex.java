package tappet.proof;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.network.Variable;
import tappet.proof.sat.Clauses;
import tappet.proof.sat.Unrolling;

/** Lemmas by the latch they are about. */
final class LemmaIndex {

  private final Map<Variable, List<Lemma>> byOne = new LinkedHashMap<>();

  LemmaIndex(Collection<Lemma> lemmas) {
    lemmas.forEach(
        lemma -> byOne.computeIfAbsent(lemma.one(), any -> new ArrayList<>()).add(lemma));
  }

  /** Demands in a tick every lemma about nothing but what is written there. */
  void demand(Unrolling unrolling, Clauses clauses, int tick) {
    within(unrolling.written(tick))
        .forEach(lemma -> clauses.demand(lemma.literals(unrolling, tick)));
  }

  /** The lemmas about nothing but some variables. */
  List<Lemma> within(Set<Variable> variables) {
    List<Lemma> found = new ArrayList<>();
    for (Variable one : variables) {
      for (Lemma lemma : byOne.getOrDefault(one, List.of())) {
        if (variables.contains(lemma.other())) {
          found.add(lemma);
        }
      }
    }
    return found;
  }
}
