package tappet.proof;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * Sifts lemmas until those left hold each other up: where all of them hold, all of them hold one
 * tick later. Since each holds at the start, each holds always.
 *
 * <p>Lemmas are sifted in groups, each with the equations it depends on and nothing else. A group
 * is looked at again when a lemma that it leaned on has fallen.
 */
final class Induction {

  private final Network network;
  private final Meanings meanings;
  private final ProofMemory memory;
  private final Set<Lemma> standing;
  private final Map<String, Group> groups = new LinkedHashMap<>();

  private Induction(
      Network network,
      Meanings meanings,
      ProofMemory memory,
      List<Lemma> given,
      List<Lemma> candidates) {
    this.network = network;
    this.meanings = meanings;
    this.memory = memory;
    this.standing = new LinkedHashSet<>(given);
    standing.addAll(candidates);
    Map<String, List<Lemma>> byElement = new LinkedHashMap<>();
    candidates.forEach(
        lemma -> byElement.computeIfAbsent(element(lemma), any -> new ArrayList<>()).add(lemma));
    LemmaIndex index = new LemmaIndex(standing);
    byElement.forEach((element, own) -> groups.put(element, new Group(own, index)));
  }

  /**
   * The lemmas given, and those of the candidates that hold always.
   *
   * @param memory knows groups that were found to stand
   * @param given lemmas that hold always
   */
  static List<Lemma> sift(
      Network network,
      Meanings meanings,
      ProofMemory memory,
      List<Lemma> given,
      List<Lemma> candidates) {
    Induction induction = new Induction(network, meanings, memory, given, candidates);
    induction.sift();
    return List.copyOf(induction.standing);
  }

  /** The device or route that a lemma is about, first of all: its first word. */
  private static String element(Lemma lemma) {
    String name = lemma.other().name();
    int colon = name.indexOf(':');
    return colon < 0 ? name : name.substring(0, colon);
  }

  private void sift() {
    Set<Group> toSift = new LinkedHashSet<>(groups.values());
    while (!toSift.isEmpty()) {
      Set<Lemma> before = Set.copyOf(standing);
      List<Lemma> fallen =
          toSift.parallelStream().flatMap(group -> group.fallen(before).stream()).toList();
      standing.removeAll(new HashSet<>(fallen));
      toSift.clear();
      groups.values().stream().filter(group -> group.leansOnOne(fallen)).forEach(toSift::add);
    }
  }

  /** The lemmas about one device or route. */
  private final class Group {

    private final List<Lemma> own;
    private final LemmaIndex index;
    private Set<Lemma> leansOn = Set.of();

    Group(List<Lemma> own, LemmaIndex index) {
      this.own = own;
      this.index = index;
    }

    boolean leansOnOne(List<Lemma> lemmas) {
      return lemmas.stream().anyMatch(leansOn::contains);
    }

    /** The own lemmas that need not hold one tick after all that stand do. */
    List<Lemma> fallen(Set<Lemma> before) {
      List<Lemma> left = own.stream().filter(before::contains).toList();
      if (left.isEmpty()) {
        return List.of();
      }
      Set<Variable> about = meanings.behind(latches(left), 1);
      leansOn = new LinkedHashSet<>(index.within(about::contains));
      leansOn.retainAll(before);
      Fingerprint fingerprint = fingerprint(left, about);
      if (memory.knows(fingerprint)) {
        return List.of();
      }
      List<Lemma> fallen = new Question(left, leansOn).violated();
      if (fallen.isEmpty()) {
        memory.note(fingerprint);
      }
      return fallen;
    }

    private static Set<Variable> latches(List<Lemma> lemmas) {
      return lemmas.stream()
          .flatMap(lemma -> Stream.of(lemma.one(), lemma.other()))
          .collect(Collectors.toCollection(LinkedHashSet::new));
    }

    private Fingerprint fingerprint(List<Lemma> left, Set<Variable> about) {
      return Fingerprint.of("one tick later")
          .plus(meanings.of(about))
          .plus(meanings.ofLemmas(leansOn))
          .plus(meanings.ofLemmas(left).inOtherPart());
    }
  }

  /** Whether lemmas hold one tick after others did. */
  private final class Question {

    private final Solver solver = new Solver();
    private final Unrolling unrolling = new Unrolling(network, solver, Unrolling.From.ANYWHERE);

    /** What is false only where a lemma is violated. */
    private final Map<Lemma, Integer> upheld = new LinkedHashMap<>();

    /**
     * Asks for a state in which at least one of the lemmas is violated, a tick after others held.
     */
    Question(List<Lemma> lemmas, Set<Lemma> before) {
      List<Integer> someViolated = new ArrayList<>();
      for (Lemma lemma : lemmas) {
        int isUpheld = solver.fresh();
        for (int literal : lemma.literals(unrolling, 1)) {
          solver.demand(isUpheld, -literal);
        }
        upheld.put(lemma, isUpheld);
        someViolated.add(-isUpheld);
        solver.wish(-isUpheld);
      }
      solver.demand(someViolated.stream().mapToInt(Integer::intValue).toArray());
      before.forEach(lemma -> solver.demand(lemma.literals(unrolling, 0)));
    }

    /** Those that can be violated; what the solver gives up on counts among them. */
    List<Lemma> violated() {
      List<Lemma> violated = new ArrayList<>();
      List<Lemma> left = new ArrayList<>(upheld.keySet());
      while (!left.isEmpty()) {
        Solver.Outcome outcome = solver.search();
        if (outcome == Solver.Outcome.IMPOSSIBLE) {
          return violated;
        }
        List<Lemma> now =
            outcome == Solver.Outcome.UNKNOWN
                ? List.copyOf(left)
                : left.stream().filter(this::isViolated).toList();
        now.forEach(lemma -> solver.demand(upheld.get(lemma)));
        violated.addAll(now);
        left.removeAll(new HashSet<>(now));
      }
      return violated;
    }

    private boolean isViolated(Lemma lemma) {
      return Arrays.stream(lemma.literals(unrolling, 1)).noneMatch(solver::value);
    }
  }
}
