package tappet.proof.published;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Stream;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.Property;
import tappet.proof.Watched;

/**
 * Looks at every state of a machine that is changed by events alone, one at a time, breadth first.
 * A state is looked at with 64 events at once and kept as its bare bits, so that there may be a
 * hundred million of them.
 */
final class EventSearch {

  /**
   * How large a machine is.
   *
   * @param states how many it can come to
   * @param transitions how many events are enabled in them, all together
   * @param depth how many events the last of them is away
   */
  record Extent(int states, long transitions, int depth) {}

  private final List<Property> properties;
  private final ManyCases cases;
  private final int latches;
  private final List<List<Variable>> rounds = new ArrayList<>();
  private final FoundStates states;
  private final long[] state;
  private final List<long[]> after = new ArrayList<>();
  private final Set<Property> broken = new LinkedHashSet<>();
  private long transitions;

  /**
   * @param watched a machine without inputs and times
   * @param happens that an enabled event happens in a tick
   * @throws IllegalArgumentException if something else can change it
   */
  EventSearch(Watched watched, Variable happens) {
    Network network = watched.network();
    boolean hasInputs =
        network.variables().stream().anyMatch(any -> any.kind() == Variable.Kind.INPUT);
    if (hasInputs || !network.timers().isEmpty()) {
      throw new IllegalArgumentException("inputs or times, expected events alone");
    }
    properties = watched.properties();
    cases =
        new ManyCases(
            network,
            Stream.concat(Stream.of(happens), properties.stream().map(Property::holds)).toList());
    latches = network.latches().size();
    List<Variable> events =
        network.variables().stream().filter(any -> any.kind() == Variable.Kind.PULSE).toList();
    for (int first = 0; first < events.size(); first += Long.SIZE) {
      rounds.add(events.subList(first, Math.min(first + Long.SIZE, events.size())));
    }
    states = new FoundStates(latches);
    state = states.blank();
    for (int event = 0; event < Long.SIZE; event++) {
      after.add(states.blank());
    }
    addInitial(network);
  }

  private void addInitial(Network network) {
    int latch = 0;
    for (Latch each : network.latches().values()) {
      if (each.initially()) {
        flip(latch, state);
      }
      latch++;
    }
    states.add(state);
  }

  /**
   * Looks at all states.
   *
   * @param progress hears what has been found by each depth
   * @throws IllegalStateException if anything changes without an event
   */
  Extent search(Consumer<Extent> progress) {
    Extent found = new Extent(states.count(), 0, -1);
    for (int looked = 0; looked < states.count(); ) {
      for (int edge = states.count(); looked < edge; looked++) {
        look(looked);
      }
      found = new Extent(states.count(), transitions, found.depth() + 1);
      progress.accept(found);
    }
    return found;
  }

  /** What does not hold in some state. */
  Set<Property> broken() {
    return broken;
  }

  private void look(int number) {
    states.read(number, state);
    cases.lay(state);
    noteBroken();
    for (List<Variable> round : rounds) {
      cases.let(round);
      noteStatesAfter(cases.asked(0));
    }
  }

  private void noteBroken() {
    for (int place = 0; place < properties.size(); place++) {
      if (cases.asked(1 + place) != -1) {
        broken.add(properties.get(place));
      }
    }
  }

  /**
   * @param enabled the events of this round that are
   */
  private void noteStatesAfter(long enabled) {
    for (long left = enabled; left != 0; left &= left - 1) {
      System.arraycopy(state, 0, after(left), 0, state.length);
    }
    for (int latch = 0; latch < latches; latch++) {
      long changes = cases.changes(latch);
      if ((changes & ~enabled) != 0) {
        throw new IllegalStateException("latch " + latch + " changes without an event");
      }
      for (long left = changes; left != 0; left &= left - 1) {
        flip(latch, after(left));
      }
    }
    for (long left = enabled; left != 0; left &= left - 1) {
      states.add(after(left));
    }
    transitions += Long.bitCount(enabled);
  }

  /** The state after the first of some events. */
  private long[] after(long events) {
    return after.get(Long.numberOfTrailingZeros(events));
  }

  private static void flip(int latch, long[] state) {
    state[latch / Long.SIZE] ^= 1L << latch;
  }
}
