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
  private final List<Group> groups = new ArrayList<>();

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
    byElement.values().forEach(own -> groups.add(new Group(own)));
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
    List<Group> toSift = groups;
    while (!toSift.isEmpty()) {
      LemmaIndex before = new LemmaIndex(standing);
      Set<Lemma> fallen =
          toSift.parallelStream()
              .flatMap(group -> group.sifted(before).stream())
              .collect(Collectors.toSet());
      standing.removeAll(fallen);
      toSift = groups.stream().filter(group -> group.leansOnOne(fallen)).toList();
    }
  }

  /** The lemmas about one device or route. */
  private final class Group {

    private final List<Lemma> own;
    private List<Lemma> leansOn = List.of();

    Group(List<Lemma> own) {
      this.own = own;
    }

    boolean leansOnOne(Set<Lemma> lemmas) {
      return leansOn.stream().anyMatch(lemmas::contains);
    }

    /** Leaves only own lemmas that hold one tick after all that stand do; answers the others. */
    List<Lemma> sifted(LemmaIndex before) {
      Set<Variable> about = meanings.behind(latches(own), 1);
      leansOn = before.within(about);
      Fingerprint fingerprint = fingerprint(about);
      if (own.isEmpty() || memory.knows(fingerprint)) {
        return List.of();
      }
      List<Lemma> fallen = new Question(own, leansOn).violated();
      if (fallen.isEmpty()) {
        memory.note(fingerprint);
      }
      own.removeAll(new HashSet<>(fallen));
      return fallen;
    }

    private static Set<Variable> latches(List<Lemma> lemmas) {
      return lemmas.stream()
          .flatMap(lemma -> Stream.of(lemma.one(), lemma.other()))
          .collect(Collectors.toCollection(LinkedHashSet::new));
    }

    private Fingerprint fingerprint(Set<Variable> about) {
      return Fingerprint.of("one tick later")
          .plus(meanings.of(about))
          .plus(meanings.ofLemmas(leansOn))
          .plus(meanings.ofLemmas(own).inOtherPart());
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
    Question(List<Lemma> lemmas, List<Lemma> before) {
      List<Integer> someViolated = new ArrayList<>();
      for (Lemma lemma : lemmas) {
        int isUpheld = solver.fresh();
        for (int literal : lemma.literals(unrolling, 1)) {
          solver.demand(isUpheld, -literal);
        }
        upheld.put(lemma, isUpheld);
        someViolated.add(-isUpheld);
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
        if (violated.isEmpty()) {
          wishForViolations();
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

    /** Not before one was found: where all hold, as they most often do, wishes are in the way. */
    private void wishForViolations() {
      upheld.values().forEach(isUpheld -> solver.wish(-isUpheld));
    }

    private boolean isViolated(Lemma lemma) {
      return Arrays.stream(lemma.literals(unrolling, 1)).noneMatch(solver::value);
    }
  }
}
