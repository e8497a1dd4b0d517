package tappet.proof;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * Whether another network, such as that of an edited rule file, gives the same orders as the
 * original for ever, whatever happens to both.
 *
 * <p>Variables correspond by name. All are taken to be equal until one is found that need not be:
 * where those that stand are equal and the lemmas of the original hold, it can differ in the same
 * tick, or as a latch in the next. That one falls, and the other network has its own from then on.
 * Those left hold each other up from one tick to the next, and since latches begin alike, they are
 * equal always.
 *
 * <p>Both networks hear the same. A time runs out in both at once where it is asked for by equal
 * variables and is as long; any other may run out in either at any moment. A pulse comes when both
 * have settled. The order of two times that are due at the same moment is left open.
 *
 * <p>What is not shown to be equal need not differ.
 */
public final class Equivalence {

  /** Lemmas are tried against what is seen in so many days before the solver is asked. */
  private static final int DAYS = 200;

  private final Network original;
  private final LemmaIndex lemmas;

  /**
   * @param lemmas what always holds in the original
   */
  Equivalence(Network original, List<Lemma> lemmas) {
    this.original = original;
    this.lemmas = new LemmaIndex(lemmas);
  }

  /** Equivalence with a network of which lemmas are learnt first. */
  public static Equivalence with(Watched original) {
    return new Equivalence(original.network(), lemmas(original));
  }

  /** What is found to hold always of a network. */
  static List<Lemma> lemmas(Watched watched) {
    SeenStates seen = new SeenStates(watched, DAYS);
    Dependencies dependencies = new Dependencies(watched.network());
    return upheld(watched, Candidates.of(watched, seen, dependencies, any -> true));
  }

  /** Those of some candidates that hold always. */
  static List<Lemma> upheld(Watched watched, List<Lemma> candidates) {
    Network network = watched.network();
    return Induction.sift(
        network, new Meanings(network), ProofMemory.none(), List.of(), candidates);
  }

  /**
   * Whether every order is shown to be the same in both networks, in each tick. One that only one
   * of them knows must never be given.
   *
   * @param isOrder which variables tell the field what to do, by their names
   */
  public boolean isShown(Network other, Predicate<String> isOrder) {
    if (!Joined.isPossible(original, other)) {
      return false;
    }
    Set<Variable> apart = Joined.withoutNamesake(original, other);
    Set<Variable> fallen;
    do {
      fallen = new Question(other, apart).fallen();
      if (fallen.stream().anyMatch(variable -> isOrder.test(variable.name()))) {
        return false;
      }
    } while (apart.addAll(fallen));
    return new Question(other, apart).nothingIsGivenByOneAlone(isOrder);
  }

  /** What can differ in one tick, or after it, where all that does not stand apart is equal. */
  private final class Question {

    private final Network other;
    private final Set<Variable> apart;
    private final Joined joined;
    private final Solver solver = new Solver();
    private final Unrolling unrolling;

    Question(Network other, Set<Variable> apart) {
      this.other = other;
      this.apart = apart;
      this.joined = new Joined(original, other, apart);
      this.unrolling = new Unrolling(joined.network(), solver, Unrolling.From.ANYWHERE);
    }

    /** Variables of the other network that need not be equal after all. */
    Set<Variable> fallen() {
      Map<Variable, Integer> differs = new LinkedHashMap<>();
      other.equations().forEach((equation, meaning) -> compare(equation, meaning, differs));
      other.latches().values().forEach(latch -> compare(latch, differs));
      lemmas.demand(unrolling, solver, 0);
      Set<Variable> fallen = new LinkedHashSet<>(satisfiable(differs));
      other.timers().stream()
          .filter(timer -> apart.contains(timer.running()))
          .filter(timer -> !apart.contains(timer.runsOut()))
          .forEach(timer -> fallen.add(timer.runsOut()));
      return fallen;
    }

    private void compare(Variable equation, Expression meaning, Map<Variable, Integer> differs) {
      Variable namesake = joined.counterpart(equation);
      Expression read = joined.read(meaning);
      if (!apart.contains(equation) && !read.equals(original.equations().get(namesake))) {
        differs.put(equation, differ(unrolling.literal(namesake, 0), unrolling.literal(read, 0)));
      }
    }

    private void compare(Latch latch, Map<Variable, Integer> differs) {
      Variable namesake = joined.counterpart(latch.variable());
      if (apart.contains(latch.variable())) {
        return;
      }
      Latch known = original.latches().get(namesake);
      Expression set = joined.read(latch.set());
      Expression reset = joined.read(latch.reset());
      if (!set.equals(known.set()) || !reset.equals(known.reset())) {
        int stays = unrolling.either(unrolling.literal(set, 0), unrolling.literal(namesake, 0));
        int next = unrolling.both(stays, -unrolling.literal(reset, 0));
        differs.put(latch.variable(), differ(unrolling.literal(namesake, 1), next));
      }
    }

    private int differ(int one, int other) {
      return unrolling.either(unrolling.both(one, -other), unrolling.both(-one, other));
    }

    /** Those whose literal can be true; what the solver gives up on counts among them. */
    private List<Variable> satisfiable(Map<Variable, Integer> literals) {
      List<Variable> found = new ArrayList<>();
      List<Variable> open = new ArrayList<>(literals.keySet());
      while (!open.isEmpty()) {
        Variable first = open.get(0);
        Solver.Outcome outcome = solver.search(literals.get(first));
        if (outcome == Solver.Outcome.SATISFIED) {
          List<Variable> now =
              open.stream().filter(variable -> solver.value(literals.get(variable))).toList();
          found.addAll(now);
          open.removeAll(Set.copyOf(now));
        } else {
          open.remove(first);
          if (outcome == Solver.Outcome.UNKNOWN) {
            found.add(first);
          }
        }
      }
      return found;
    }

    /** Whether no order that only one of the networks knows is ever given. */
    boolean nothingIsGivenByOneAlone(Predicate<String> isOrder) {
      Stream<Variable> ofOriginal =
          orders(original.variables(), isOrder)
              .filter(order -> other.find(order.name()).filter(this::stands).isEmpty());
      Stream<Variable> ofOther = orders(apart, isOrder).map(joined::counterpart);
      int[] given =
          Stream.concat(ofOriginal, ofOther)
              .mapToInt(order -> unrolling.literal(order, 0))
              .toArray();
      lemmas.demand(unrolling, solver, 0);
      return solver.search(unrolling.either(given)) == Solver.Outcome.IMPOSSIBLE;
    }

    private static Stream<Variable> orders(
        Collection<Variable> variables, Predicate<String> isOrder) {
      return variables.stream().filter(variable -> isOrder.test(variable.name()));
    }

    private boolean stands(Variable ofOther) {
      return !apart.contains(ofOther);
    }
  }
}
