package tappet.proof;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * Looks at every state of a small network, breadth first: in each state every value of the inputs,
 * and with each of them every pulse that may come. What may come is what the unrolling says of
 * itself, worked out from the network alone.
 */
public final class ExplicitSearch {

  private final Network network;
  private final Collection<Variable> asked;
  private final Behind behind;
  private final List<BitSet> inputValues;
  private final List<BitSet> happenings;
  private final Set<BitSet> seen = new HashSet<>();
  private final Map<Variable, Integer> firstTrue = new HashMap<>();
  private final Map<Variable, Integer> firstFalse = new HashMap<>();
  private int ticks;

  /**
   * @param asked what to look for; what nothing of it depends on is not looked at
   */
  public ExplicitSearch(Network network, Collection<Variable> asked) {
    this.network = network;
    this.asked = asked;
    this.behind = new Behind(network, asked);
    this.inputValues = subsets(behind.of(Variable.Kind.INPUT));
    this.happenings = happenings();
  }

  /**
   * Looks at all states up to a tick.
   *
   * @param last the last tick to look at, from 0
   */
  public void search(int last) {
    Set<BitSet> edge = Set.of(start());
    for (ticks = 0; ticks <= last && !edge.isEmpty(); ticks++) {
      seen.addAll(edge);
      Set<BitSet> next = new HashSet<>();
      for (BitSet state : edge) {
        look(state, ticks, next);
      }
      next.removeAll(seen);
      edge = next;
    }
  }

  /** After how many ticks there was no new state, or the search was over. */
  public int ticks() {
    return ticks;
  }

  /** By variable: the first tick in which it can be true, where it can. */
  public Map<Variable, Integer> firstTrue() {
    return firstTrue;
  }

  /** By variable: the first tick in which it can be false, where it can. */
  public Map<Variable, Integer> firstFalse() {
    return firstFalse;
  }

  public int states() {
    return seen.size();
  }

  private BitSet start() {
    BitSet start = new BitSet();
    behind.latches().stream()
        .filter(Latch::initially)
        .forEach(latch -> start.set(latch.variable().index()));
    return start;
  }

  private void look(BitSet state, int tick, Set<BitSet> next) {
    for (BitSet inputs : inputValues) {
      BitSet quiet = union(state, inputs);
      Tick now = new Tick(network, quiet);
      note(now, tick, next);
      if (now.isSettled(behind.latches())) {
        for (BitSet happening : happenings) {
          Tick disturbed = new Tick(network, union(quiet, happening));
          if (behind.timers().stream().allMatch(disturbed::isAskedFor)) {
            note(disturbed, tick, next);
          }
        }
      }
    }
  }

  private void note(Tick now, int tick, Set<BitSet> next) {
    for (Variable variable : asked) {
      (now.value(variable) ? firstTrue : firstFalse).putIfAbsent(variable, tick);
    }
    BitSet after = new BitSet();
    for (Latch latch : behind.latches()) {
      after.set(latch.variable().index(), now.next(latch));
    }
    next.add(after);
  }

  /** Each pulse alone, and of those that may come together every selection. */
  private List<BitSet> happenings() {
    Set<BitSet> found = new HashSet<>();
    List<Variable> pulses = behind.of(Variable.Kind.PULSE);
    pulses.stream()
        .filter(pulse -> network.together().stream().noneMatch(group -> group.contains(pulse)))
        .forEach(pulse -> found.addAll(subsets(List.of(pulse))));
    network
        .together()
        .forEach(group -> found.addAll(subsets(pulses.stream().filter(group::contains).toList())));
    found.remove(new BitSet());
    return List.copyOf(found);
  }

  private static List<BitSet> subsets(List<Variable> variables) {
    List<BitSet> subsets = new ArrayList<>(List.of(new BitSet()));
    for (Variable variable : variables) {
      List<BitSet> with = new ArrayList<>();
      for (BitSet subset : subsets) {
        BitSet more = (BitSet) subset.clone();
        more.set(variable.index());
        with.add(more);
      }
      subsets.addAll(with);
    }
    return subsets;
  }

  private static BitSet union(BitSet one, BitSet other) {
    BitSet union = (BitSet) one.clone();
    union.or(other);
    return union;
  }
}
