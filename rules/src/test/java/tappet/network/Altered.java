package tappet.network;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.UnaryOperator;

/** Finished networks with changes that keep every variable and the order of the equations. */
public final class Altered {

  private Altered() {}

  /**
   * A network with each right-hand side rewritten. What is written may read no more equations than
   * were read before.
   */
  public static Network each(Network network, UnaryOperator<Expression> rewriting) {
    Map<Variable, Expression> equations = new LinkedHashMap<>(network.equations());
    Map<Variable, Latch> latches = new LinkedHashMap<>(network.latches());
    equations.replaceAll((equation, meaning) -> rewriting.apply(meaning));
    latches.replaceAll(
        (variable, latch) ->
            new Latch(
                variable,
                rewriting.apply(latch.set()),
                rewriting.apply(latch.reset()),
                latch.initially()));
    return with(network, equations, latches);
  }

  /** A network in which some variables are read as others; what is read instead is no equation. */
  public static Network reading(Network network, Map<Variable, Variable> instead) {
    return each(network, expression -> replace(expression, instead));
  }

  private static Expression replace(Expression expression, Map<Variable, Variable> instead) {
    if (expression instanceof Expression.Is is) {
      return Expression.is(instead.getOrDefault(is.variable(), is.variable()));
    }
    if (expression instanceof Expression.Not not) {
      return new Expression.Not(replace(not.part(), instead));
    }
    if (expression instanceof Expression.All all) {
      return new Expression.All(all.parts().stream().map(part -> replace(part, instead)).toList());
    }
    return new Expression.Any(
        ((Expression.Any) expression)
            .parts().stream().map(part -> replace(part, instead)).toList());
  }

  /**
   * A network that reads some inputs and pulses as if they never changed. Latches that then never
   * change either are no longer read, so that fewer states are left to be looked at.
   */
  public static Network tied(Network network, Map<Variable, Boolean> levers) {
    Map<Variable, Boolean> known = new HashMap<>(levers);
    Network tied = network;
    int before = -1;
    while (known.size() > before) {
      before = known.size();
      tied = each(network, expression -> simplify(expression, known));
      tied.equations().forEach((equation, meaning) -> noteConstant(equation, meaning, known));
      tied.latches().values().stream()
          .filter(Altered::neverChanges)
          .forEach(latch -> known.put(latch.variable(), latch.initially()));
    }
    return tied;
  }

  private static void noteConstant(
      Variable equation, Expression meaning, Map<Variable, Boolean> known) {
    if (meaning.equals(Expression.always()) || meaning.equals(Expression.never())) {
      known.put(equation, meaning.equals(Expression.always()));
    }
  }

  private static boolean neverChanges(Latch latch) {
    return (latch.initially() ? latch.reset() : latch.set()).equals(Expression.never());
  }

  private static Expression simplify(Expression expression, Map<Variable, Boolean> known) {
    if (expression instanceof Expression.Is is) {
      Boolean value = known.get(is.variable());
      return value == null ? is : value ? Expression.always() : Expression.never();
    }
    if (expression instanceof Expression.Not not) {
      return opposite(simplify(not.part(), known));
    }
    if (expression instanceof Expression.All all) {
      var parts = all.parts().stream().map(part -> simplify(part, known)).distinct().toList();
      return parts.contains(Expression.never())
          ? Expression.never()
          : Expression.all(parts.stream().filter(any -> !any.equals(Expression.always())).toList());
    }
    var parts =
        ((Expression.Any) expression)
            .parts().stream().map(part -> simplify(part, known)).distinct().toList();
    return parts.contains(Expression.always())
        ? Expression.always()
        : Expression.any(parts.stream().filter(any -> !any.equals(Expression.never())).toList());
  }

  private static Expression opposite(Expression part) {
    if (part.equals(Expression.always())) {
      return Expression.never();
    }
    return part.equals(Expression.never()) ? Expression.always() : Expression.not(part);
  }

  /** A network with another right-hand side for one of its equations. */
  public static Network with(Network network, String equation, Expression meaning) {
    Variable altered = network.named(equation);
    if (!network.equations().containsKey(altered)) {
      throw new IllegalArgumentException("'" + equation + "' is no equation");
    }
    return with(network, Map.of(altered, meaning), Map.of());
  }

  /** A network with some right-hand sides in the place of its own. */
  public static Network with(
      Network network, Map<Variable, Expression> equations, Map<Variable, Latch> latches) {
    Map<Variable, Expression> allEquations = new LinkedHashMap<>(network.equations());
    Map<Variable, Latch> allLatches = new LinkedHashMap<>(network.latches());
    allEquations.putAll(equations);
    allLatches.putAll(latches);
    Map<String, Variable> byName = new LinkedHashMap<>();
    network.variables().forEach(variable -> byName.put(variable.name(), variable));
    return new Network(
        network.variables(),
        byName,
        new DependencyOrder(allEquations).sorted(),
        allLatches,
        network.timers(),
        network.together());
  }
}
