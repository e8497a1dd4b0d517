package tappet.proof;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import tappet.network.Variable;

/** Lemmas by the latch they are about. */
final class LemmaIndex {

  private final Map<Variable, List<Lemma>> byOne = new LinkedHashMap<>();

  LemmaIndex(List<Lemma> lemmas) {
    lemmas.forEach(
        lemma -> byOne.computeIfAbsent(lemma.one(), any -> new ArrayList<>()).add(lemma));
  }

  /** The lemmas about nothing but some variables. */
  List<Lemma> within(Predicate<Variable> variables) {
    List<Lemma> found = new ArrayList<>();
    byOne.forEach(
        (one, lemmas) -> {
          if (variables.test(one)) {
            lemmas.stream().filter(lemma -> variables.test(lemma.other())).forEach(found::add);
          }
        });
    return found;
  }
}
