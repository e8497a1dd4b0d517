package tappet.network;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Takes variables and equations in any order and makes a {@link Network}. An equation or a latch is
 * declared first and defined once, so that they may refer to each other.
 */
public final class NetworkBuilder {

  private final List<Variable> variables = new ArrayList<>();
  private final Map<String, Variable> byName = new LinkedHashMap<>();
  private final Map<Variable, Expression> equations = new LinkedHashMap<>();
  private final Map<Variable, Latch> latches = new LinkedHashMap<>();
  private final Set<Variable> initiallyTrue = new LinkedHashSet<>();
  private final List<Timer> timers = new ArrayList<>();
  private final Set<Variable> timed = new LinkedHashSet<>();
  private final List<Set<Variable>> together = new ArrayList<>();

  /**
   * Goes on with a finished network: all that it has keeps its number and its meaning, and what is
   * added can only watch it.
   */
  public static NetworkBuilder extending(Network network) {
    NetworkBuilder builder = new NetworkBuilder();
    for (Variable variable : network.variables()) {
      builder.variables.add(variable);
      builder.byName.put(variable.name(), variable);
    }
    builder.equations.putAll(network.equations());
    builder.latches.putAll(network.latches());
    for (Timer timer : network.timers()) {
      builder.timers.add(timer);
      builder.timed.add(timer.running());
    }
    builder.together.addAll(network.together());
    return builder;
  }

  /** An input, false until told otherwise. */
  public Variable input(String name, Words words) {
    return declare(Variable.Kind.INPUT, name, words);
  }

  /** A pulse: true in the first tick of the step that carries it. */
  public Variable pulse(String name, Words words) {
    return declare(Variable.Kind.PULSE, name, words);
  }

  /** A latch that starts false. */
  public Variable latch(String name, Words words) {
    return declare(Variable.Kind.LATCH, name, words);
  }

  /** A latch that starts true. */
  public Variable latchInitiallyTrue(String name, Words words) {
    Variable latch = latch(name, words);
    initiallyTrue.add(latch);
    return latch;
  }

  /** An equation to be defined later. */
  public Variable equation(String name, Words words) {
    return declare(Variable.Kind.EQUATION, name, words);
  }

  /** An equation with its right-hand side. */
  public Variable equation(String name, Words words, Expression meaning) {
    Variable equation = equation(name, words);
    define(equation, meaning);
    return equation;
  }

  /** Gives an equation its right-hand side. */
  public void define(Variable equation, Expression meaning) {
    require(equation, Variable.Kind.EQUATION);
    requireOwnVariables(meaning);
    if (equations.putIfAbsent(equation, meaning) != null) {
      throw new IllegalStateException("'" + equation + "' is defined twice");
    }
  }

  /** Gives a latch its two equations. */
  public void define(Variable latch, Expression set, Expression reset) {
    require(latch, Variable.Kind.LATCH);
    requireOwnVariables(set);
    requireOwnVariables(reset);
    Latch definition = new Latch(latch, set, reset, initiallyTrue.contains(latch));
    if (latches.putIfAbsent(latch, definition) != null) {
      throw new IllegalStateException("'" + latch + "' is defined twice");
    }
  }

  /**
   * A time to be run while {@code running} is true.
   *
   * @return the latch "has run"
   * @throws IllegalStateException if {@code running} asks for another time already
   */
  public Variable timer(String name, Words words, Variable running, Duration duration) {
    if (duration.isNegative() || duration.isZero()) {
      throw new IllegalArgumentException("time " + duration + " for '" + name + "', expected > 0");
    }
    if (!timed.add(running)) {
      throw new IllegalStateException("'" + running + "' asks for two times");
    }
    Variable runsOut = pulse(name + " runs out", Words.fact(name + " runs out", ""));
    Variable hasRun = latch(name + " has run", words);
    define(hasRun, Expression.is(runsOut), Expression.not(running));
    timers.add(new Timer(running, runsOut, hasRun, duration));
    return hasRun;
  }

  /**
   * Says that pulses may be laid on in one step. Any other pulse comes alone, since one thing
   * happens at a time.
   */
  public void together(Collection<Variable> pulses) {
    pulses.forEach(pulse -> require(pulse, Variable.Kind.PULSE));
    together.add(Collections.unmodifiableSet(new LinkedHashSet<>(pulses)));
  }

  /**
   * The finished network.
   *
   * @throws CircularEquationException if equations depend on each other in a circle
   * @throws IllegalStateException if something declared was never defined
   */
  public Network build() {
    variables.forEach(this::requireDefinition);
    return new Network(
        variables,
        Collections.unmodifiableMap(new LinkedHashMap<>(byName)),
        Collections.unmodifiableMap(new DependencyOrder(equations).sorted()),
        Collections.unmodifiableMap(latchesAsDeclared()),
        timers,
        together);
  }

  private Map<Variable, Latch> latchesAsDeclared() {
    Map<Variable, Latch> declared = new LinkedHashMap<>();
    variables.stream()
        .filter(latches::containsKey)
        .forEach(latch -> declared.put(latch, latches.get(latch)));
    return declared;
  }

  private Variable declare(Variable.Kind kind, String name, Words words) {
    Variable variable = new Variable(variables.size(), kind, name, words);
    if (byName.putIfAbsent(name, variable) != null) {
      throw new IllegalStateException("two variables are named '" + name + "'");
    }
    variables.add(variable);
    return variable;
  }

  private void require(Variable variable, Variable.Kind kind) {
    if (variable.kind() != kind || !owns(variable)) {
      throw new IllegalArgumentException("'" + variable + "' is no " + kind + " of this network");
    }
  }

  private void requireOwnVariables(Expression expression) {
    for (Variable variable : expression.variables()) {
      if (!owns(variable)) {
        throw new IllegalArgumentException("'" + variable + "' is no variable of this network");
      }
    }
  }

  private boolean owns(Variable variable) {
    return variable.equals(byName.get(variable.name()));
  }

  private void requireDefinition(Variable variable) {
    boolean defined =
        switch (variable.kind()) {
          case INPUT, PULSE -> true;
          case LATCH -> latches.containsKey(variable);
          case EQUATION -> equations.containsKey(variable);
        };
    if (!defined) {
      throw new IllegalStateException("'" + variable + "' was declared and never defined");
    }
  }
}
