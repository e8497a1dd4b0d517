package tappet.proof;

import java.util.BitSet;
import java.util.List;
import java.util.Set;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Timer;
import tappet.network.Variable;

/**
 * One tick of a network, read slowly and directly from its expressions, and what may happen in it.
 * It shares nothing with the unrolling and the exports but the network itself.
 */
final class Tick {

  private final Network network;
  private final BitSet on;
  private final BitSet known = new BitSet();
  private final BitSet value = new BitSet();

  /**
   * @param on the inputs, pulses and latches that are true, by index
   */
  Tick(Network network, BitSet on) {
    this.network = network;
    this.on = on;
  }

  boolean value(Variable variable) {
    int index = variable.index();
    if (variable.kind() != Variable.Kind.EQUATION) {
      return on.get(index);
    }
    if (!known.get(index)) {
      value.set(index, value(network.equations().get(variable)));
      known.set(index);
    }
    return value.get(index);
  }

  private boolean value(Expression expression) {
    if (expression instanceof Expression.Is is) {
      return value(is.variable());
    }
    if (expression instanceof Expression.Not not) {
      return !value(not.part());
    }
    if (expression instanceof Expression.All all) {
      return !oneIs(false, all.parts());
    }
    return oneIs(true, ((Expression.Any) expression).parts());
  }

  private boolean oneIs(boolean wanted, List<Expression> parts) {
    for (Expression part : parts) {
      if (value(part) == wanted) {
        return true;
      }
    }
    return false;
  }

  /** The value of a latch in the tick after this one. */
  boolean next(Latch latch) {
    return !value(latch.reset()) && (value(latch.set()) || value(latch.variable()));
  }

  /** Whether the pulses that come are one, or some of those that may come together. */
  boolean oneThingHappens() {
    Set<Variable> coming = Set.copyOf(pulses());
    return coming.size() <= 1
        || network.together().stream().anyMatch(group -> group.containsAll(coming));
  }

  /** Whether no pulse comes, or only where some latches would all have stayed as they are. */
  boolean happensWhenSettled(Iterable<Latch> latches) {
    return pulses().isEmpty() || withoutPulses().isSettled(latches);
  }

  /** Whether a time does not run out, or is asked for. */
  boolean isAskedFor(Timer timer) {
    return !value(timer.runsOut()) || value(timer.running());
  }

  /** Whether latches stay as they are. */
  boolean isSettled(Iterable<Latch> latches) {
    for (Latch latch : latches) {
      if (next(latch) != value(latch.variable())) {
        return false;
      }
    }
    return true;
  }

  private Tick withoutPulses() {
    BitSet quiet = (BitSet) on.clone();
    pulses().forEach(pulse -> quiet.clear(pulse.index()));
    return new Tick(network, quiet);
  }

  private List<Variable> pulses() {
    return on.stream()
        .mapToObj(network.variables()::get)
        .filter(variable -> variable.kind() == Variable.Kind.PULSE)
        .toList();
  }
}
