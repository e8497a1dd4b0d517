package tappet.network;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.Set;

/** A finished network: every variable is defined, no equation depends on itself. */
public final class Network {

  private final List<Variable> variables;
  private final Map<String, Variable> byName;
  private final Map<Variable, Expression> equations;
  private final Map<Variable, Latch> latches;
  private final List<Timer> timers;
  private final Map<Variable, Timer> timerEndedBy = new HashMap<>();
  private final List<Set<Variable>> together;
  private final Map<Variable, Set<Variable>> comesWith = new HashMap<>();

  /** Only {@link NetworkBuilder} makes one, after its checks. */
  Network(
      List<Variable> variables,
      Map<String, Variable> byName,
      Map<Variable, Expression> equationsInOrder,
      Map<Variable, Latch> latches,
      List<Timer> timers,
      List<Set<Variable>> together) {
    this.variables = List.copyOf(variables);
    this.byName = byName;
    this.equations = equationsInOrder;
    this.latches = latches;
    this.timers = List.copyOf(timers);
    timers.forEach(timer -> timerEndedBy.put(timer.runsOut(), timer));
    this.together = List.copyOf(together);
    together.forEach(group -> group.forEach(pulse -> comesWith.put(pulse, group)));
  }

  /** All variables by index. */
  public List<Variable> variables() {
    return variables;
  }

  /** Whether {@code variable} was declared here and not by another network. */
  boolean owns(Variable variable) {
    return variable.index() < variables.size() && variables.get(variable.index()).equals(variable);
  }

  /** The variable of that name, if there is one. */
  public Optional<Variable> find(String name) {
    return Optional.ofNullable(byName.get(name));
  }

  /**
   * The variable of that name.
   *
   * @throws NoSuchElementException if there is none
   */
  public Variable named(String name) {
    return find(name).orElseThrow(() -> new NoSuchElementException("no variable '" + name + "'"));
  }

  /** The equations, each after all that it depends on. */
  public Map<Variable, Expression> equations() {
    return equations;
  }

  /** The latches in the order of their declaration. */
  public Map<Variable, Latch> latches() {
    return latches;
  }

  /** The times the network asks for. */
  public List<Timer> timers() {
    return timers;
  }

  /** The time that a pulse tells has run out; empty where it tells something else. */
  public Optional<Timer> timerEndedBy(Variable pulse) {
    return Optional.ofNullable(timerEndedBy.get(pulse));
  }

  /** Pulses that may be laid on in one step; every other pulse comes alone. */
  public List<Set<Variable>> together() {
    return together;
  }

  /**
   * The pulses that may be laid on together with one, itself among them; empty if it comes alone.
   */
  public Optional<Set<Variable>> comesWith(Variable pulse) {
    return Optional.ofNullable(comesWith.get(pulse));
  }
}
