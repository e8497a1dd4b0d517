package tappet.proof;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.network.Network;
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
  private final Set<Lemma> standing;
  private final Map<String, Group> groups = new LinkedHashMap<>();

  private Induction(Network network, List<Lemma> candidates) {
    this.network = network;
    this.standing = new LinkedHashSet<>(candidates);
    Map<String, List<Lemma>> byElement = new LinkedHashMap<>();
    candidates.forEach(
        lemma -> byElement.computeIfAbsent(element(lemma), any -> new ArrayList<>()).add(lemma));
    LemmaIndex index = new LemmaIndex(candidates);
    byElement.forEach((element, own) -> groups.put(element, new Group(own, index)));
  }

  /** Those of the candidates that hold always. */
  static List<Lemma> sift(Network network, List<Lemma> candidates) {
    Induction induction = new Induction(network, candidates);
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
    private final Map<Lemma, Integer> violations = new LinkedHashMap<>();
    private final Map<Lemma, Integer> leanings = new LinkedHashMap<>();
    private Solver solver;
    private Unrolling unrolling;
    private int someViolated;

    Group(List<Lemma> own, LemmaIndex index) {
      this.own = own;
      this.index = index;
    }

    boolean leansOnOne(List<Lemma> lemmas) {
      return lemmas.stream().anyMatch(leanings::containsKey);
    }

    /** The own lemmas that need not hold one tick after all that stand do. */
    List<Lemma> fallen(Set<Lemma> before) {
      if (solver == null) {
        write();
      }
      Set<Lemma> left = new LinkedHashSet<>(own);
      left.retainAll(before);
      List<Lemma> fallen = new ArrayList<>();
      while (!left.isEmpty() && solver.search(assumed(before, left)) != Solver.Outcome.IMPOSSIBLE) {
        List<Lemma> violated = left.stream().filter(this::isViolated).toList();
        fallen.addAll(violated);
        left.removeAll(new HashSet<>(violated));
      }
      return fallen;
    }

    private void write() {
      solver = new Solver();
      unrolling = new Unrolling(network, solver, Unrolling.From.ANYWHERE);
      List<Integer> any = new ArrayList<>();
      for (Lemma lemma : own) {
        int violated = solver.fresh();
        for (int literal : literals(lemma, 1)) {
          solver.demand(-violated, -literal);
        }
        violations.put(lemma, violated);
        any.add(violated);
      }
      someViolated = solver.fresh();
      any.add(-someViolated);
      solver.demand(any.stream().mapToInt(Integer::intValue).toArray());
      for (Lemma lemma : index.within(variable -> unrolling.isWritten(variable, 0))) {
        int leaning = solver.fresh();
        int[] literals = literals(lemma, 0);
        solver.demand(-leaning, literals[0], literals[1]);
        leanings.put(lemma, leaning);
      }
    }

    private int[] literals(Lemma lemma, int tick) {
      return lemma.literals(
          unrolling.literal(lemma.one(), tick), unrolling.literal(lemma.other(), tick));
    }

    private int[] assumed(Set<Lemma> before, Set<Lemma> left) {
      List<Integer> assumed = new ArrayList<>();
      assumed.add(someViolated);
      own.stream()
          .filter(lemma -> !left.contains(lemma))
          .forEach(lemma -> assumed.add(-violations.get(lemma)));
      leanings.forEach(
          (lemma, leaning) -> {
            if (before.contains(lemma)) {
              assumed.add(leaning);
            }
          });
      return assumed.stream().mapToInt(Integer::intValue).toArray();
    }

    private boolean isViolated(Lemma lemma) {
      for (int literal : literals(lemma, 1)) {
        if (solver.value(literal)) {
          return false;
        }
      }
      return true;
    }
  }
}
