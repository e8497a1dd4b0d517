package tappet.network;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * A network read slowly and directly from its definition: each tick every equation is worked out
 * anew, then all latches take their next values together and pulses end. It keeps no counters, no
 * queue and no order of its own, so that it cannot share a mistake with {@link Stepper}.
 */
final class DirectReading {

  private final Network network;
  private final Map<Variable, Boolean> values = new LinkedHashMap<>();
  private final Set<Variable> swinging = new LinkedHashSet<>();
  private List<List<String>> toldByTick = new ArrayList<>(List.of(new ArrayList<>()));

  DirectReading(Network network) {
    this.network = network;
    network.variables().forEach(variable -> values.put(variable, false));
    network.latches().forEach((variable, latch) -> change(variable, latch.initially()));
    settle();
  }

  boolean value(Variable variable) {
    return values.get(variable);
  }

  void set(Variable input, boolean value) {
    change(input, value);
  }

  void pulse(Variable pulse) {
    change(pulse, true);
  }

  /** All changes since the step before: a list for each tick, sorted, since a tick has no order. */
  List<List<String>> step() {
    settle();
    List<List<String>> told = toldByTick;
    told.forEach(tick -> tick.sort(null));
    toldByTick = new ArrayList<>(List.of(new ArrayList<>()));
    return told;
  }

  boolean swings() {
    return !swinging.isEmpty();
  }

  /** The latches that change for ever. */
  Set<Variable> swinging() {
    return swinging;
  }

  /**
   * With n latches there are 2^n states. Once the pulses are over each state has one successor, so
   * that a network still changing after as many ticks has come back to where it was and goes round
   * for ever; another 2^n ticks see all that takes part.
   */
  private void settle() {
    int states = 1 << network.latches().size();
    swinging.clear();
    readEquations();
    for (int tick = 0; tick <= 2 * states && endTick(tick > states); tick++) {
      readEquations();
    }
  }

  private void readEquations() {
    Map<Variable, Boolean> read = new LinkedHashMap<>();
    network.equations().keySet().forEach(equation -> change(equation, read(equation, read)));
  }

  private boolean endTick(boolean forEver) {
    Map<Variable, Boolean> next = new LinkedHashMap<>();
    network.latches().forEach((variable, latch) -> next.put(variable, next(latch)));
    network.variables().stream()
        .filter(variable -> variable.kind() == Variable.Kind.PULSE)
        .forEach(pulse -> next.put(pulse, false));
    next.entrySet().removeIf(entry -> values.get(entry.getKey()).equals(entry.getValue()));

    toldByTick.add(new ArrayList<>());
    next.forEach(this::change);
    if (forEver) {
      swinging.addAll(next.keySet());
    }
    return !next.isEmpty();
  }

  private boolean next(Latch latch) {
    Map<Variable, Boolean> read = new LinkedHashMap<>();
    boolean set = read(latch.set(), read);
    boolean reset = read(latch.reset(), read);
    return !reset && (set || values.get(latch.variable()));
  }

  /** {@code known} only keeps an equation from being worked out twice in a tick. */
  private boolean read(Variable variable, Map<Variable, Boolean> known) {
    if (variable.kind() != Variable.Kind.EQUATION) {
      return values.get(variable);
    }
    if (!known.containsKey(variable)) {
      known.put(variable, read(network.equations().get(variable), known));
    }
    return known.get(variable);
  }

  private boolean read(Expression expression, Map<Variable, Boolean> known) {
    if (expression instanceof Expression.Is is) {
      return read(is.variable(), known);
    }
    if (expression instanceof Expression.Not not) {
      return !read(not.part(), known);
    }
    if (expression instanceof Expression.All all) {
      return all.parts().stream().allMatch(part -> read(part, known));
    }
    return ((Expression.Any) expression).parts().stream().anyMatch(part -> read(part, known));
  }

  private void change(Variable variable, boolean value) {
    if (values.put(variable, value) != value) {
      toldByTick.get(toldByTick.size() - 1).add(variable.words().when(value));
    }
  }
}
