package tappet.proof;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * Looks at every state of two small networks that hear the same, breadth first, for one in which
 * they give different orders. The networks have the same variables and differ in what these mean.
 * It shares nothing with {@link Equivalence} but the networks.
 */
final class TwinSearch {

  /** What both remember, by the indices of their latches. */
  private record State(BitSet one, BitSet other) {}

  private final Network one;
  private final Network other;
  private final List<Variable> orders;
  private final List<BitSet> inputValues;
  private final List<BitSet> happenings;

  TwinSearch(Network one, Network other, List<Variable> orders) {
    this.one = one;
    this.other = other;
    this.orders = orders;
    this.inputValues = selections(of(Variable.Kind.INPUT));
    this.happenings = happenings();
  }

  /**
   * The first tick in which an order differs.
   *
   * @param last the last tick to look at, from 0
   */
  Optional<Integer> firstDifference(int last) {
    Set<State> seen = new HashSet<>();
    Set<State> edge = Set.of(new State(start(one), start(other)));
    for (int tick = 0; tick <= last && !edge.isEmpty(); tick++) {
      seen.addAll(edge);
      Set<State> next = new HashSet<>();
      for (State state : edge) {
        if (differs(state, next)) {
          return Optional.of(tick);
        }
      }
      next.removeAll(seen);
      edge = next;
    }
    return Optional.empty();
  }

  private static BitSet start(Network network) {
    return indices(
        network.latches().values().stream().filter(Latch::initially).map(Latch::variable).toList());
  }

  /** Whether an order differs in a state, whatever comes; and what both come to from there. */
  private boolean differs(State state, Set<State> next) {
    for (BitSet inputs : inputValues) {
      Tick inOne = new Tick(one, union(state.one, inputs));
      Tick inOther = new Tick(other, union(state.other, inputs));
      if (differs(inOne, inOther, next)) {
        return true;
      }
      boolean settled =
          inOne.isSettled(one.latches().values()) && inOther.isSettled(other.latches().values());
      for (BitSet happening : settled ? happenings : List.<BitSet>of()) {
        Tick disturbedOne = heard(happening, one, union(state.one, inputs));
        Tick disturbedOther = heard(happening, other, union(state.other, inputs));
        if (differs(disturbedOne, disturbedOther, next)) {
          return true;
        }
      }
    }
    return false;
  }

  /** A time runs out only in a network that asks for it. */
  private static Tick heard(BitSet happening, Network network, BitSet quiet) {
    Tick disturbed = new Tick(network, union(quiet, happening));
    return network.timers().stream().allMatch(disturbed::isAskedFor)
        ? disturbed
        : new Tick(network, quiet);
  }

  private boolean differs(Tick inOne, Tick inOther, Set<State> next) {
    next.add(new State(after(inOne, one), after(inOther, other)));
    return orders.stream().anyMatch(order -> inOne.value(order) != inOther.value(order));
  }

  private static BitSet after(Tick tick, Network network) {
    return indices(
        network.latches().values().stream().filter(tick::next).map(Latch::variable).toList());
  }

  /** Each pulse alone, and of those that may come together every selection. */
  private List<BitSet> happenings() {
    Set<BitSet> found = new HashSet<>();
    of(Variable.Kind.PULSE).forEach(pulse -> found.add(indices(List.of(pulse))));
    one.together().forEach(group -> found.addAll(selections(List.copyOf(group))));
    found.remove(new BitSet());
    return List.copyOf(found);
  }

  private List<Variable> of(Variable.Kind kind) {
    return one.variables().stream().filter(variable -> variable.kind() == kind).toList();
  }

  private static List<BitSet> selections(List<Variable> variables) {
    List<BitSet> selections = new ArrayList<>(List.of(new BitSet()));
    for (Variable variable : variables) {
      List<BitSet> with = new ArrayList<>();
      selections.forEach(selection -> with.add(union(selection, indices(List.of(variable)))));
      selections.addAll(with);
    }
    return selections;
  }

  private static BitSet indices(List<Variable> variables) {
    BitSet indices = new BitSet();
    variables.forEach(variable -> indices.set(variable.index()));
    return indices;
  }

  private static BitSet union(BitSet one, BitSet other) {
    BitSet union = (BitSet) one.clone();
    union.or(other);
    return union;
  }
}
