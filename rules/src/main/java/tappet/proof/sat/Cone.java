package tappet.proof.sat;

import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Collections;
import java.util.Deque;
import java.util.LinkedHashSet;
import java.util.Set;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/** What some variables of a network depend on, in this tick or one before: nothing else matters. */
public final class Cone {

  private final Network network;
  private final Set<Variable> found = new LinkedHashSet<>();
  private final Deque<Variable> toLookBehind = new ArrayDeque<>();

  /** Looks behind some variables of a network, and behind all that is found there. */
  public Cone(Network network, Collection<Variable> tips) {
    this.network = network;
    tips.forEach(this::add);
    while (!toLookBehind.isEmpty()) {
      lookBehind(toLookBehind.pop());
    }
  }

  /** All that was found, the tips among it. */
  public Set<Variable> variables() {
    return Collections.unmodifiableSet(found);
  }

  boolean contains(Variable variable) {
    return found.contains(variable);
  }

  private void add(Variable variable) {
    if (found.add(variable)) {
      toLookBehind.push(variable);
    }
  }

  private void lookBehind(Variable variable) {
    switch (variable.kind()) {
      case INPUT -> {}
      case PULSE -> network.timerEndedBy(variable).ifPresent(timer -> add(timer.running()));
      case EQUATION -> addAll(network.equations().get(variable));
      case LATCH -> {
        Latch latch = network.latches().get(variable);
        addAll(latch.set());
        addAll(latch.reset());
      }
    }
  }

  private void addAll(Expression expression) {
    expression.variables().forEach(this::add);
  }
}
