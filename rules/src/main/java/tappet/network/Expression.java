package tappet.network;

import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/** The right-hand side of an equation. */
public sealed interface Expression {

  /** The value of a variable. */
  record Is(Variable variable) implements Expression {}

  /** The opposite. */
  record Not(Expression part) implements Expression {}

  /** All of the parts; true where there are none. */
  record All(List<Expression> parts) implements Expression {
    public All {
      parts = List.copyOf(parts);
    }
  }

  /** At least one of the parts; false where there are none. */
  record Any(List<Expression> parts) implements Expression {
    public Any {
      parts = List.copyOf(parts);
    }
  }

  /** Every variable that is named in it, in the order of first mention. */
  default Set<Variable> variables() {
    Set<Variable> named = new LinkedHashSet<>();
    collect(this, named);
    return named;
  }

  private static void collect(Expression expression, Set<Variable> named) {
    if (expression instanceof Is is) {
      named.add(is.variable());
    } else if (expression instanceof Not not) {
      collect(not.part(), named);
    } else if (expression instanceof All all) {
      all.parts().forEach(part -> collect(part, named));
    } else if (expression instanceof Any any) {
      any.parts().forEach(part -> collect(part, named));
    }
  }

  /** The value of {@code variable}. */
  static Expression is(Variable variable) {
    return new Is(variable);
  }

  /** The opposite of {@code variable}. */
  static Expression not(Variable variable) {
    return new Not(is(variable));
  }

  /** The opposite of {@code part}. */
  static Expression not(Expression part) {
    return part instanceof Not twice ? twice.part() : new Not(part);
  }

  /** All of {@code parts}. */
  static Expression all(List<Expression> parts) {
    return parts.size() == 1 ? parts.get(0) : new All(parts);
  }

  /** All of {@code parts}. */
  static Expression all(Expression... parts) {
    return all(Arrays.asList(parts));
  }

  /** At least one of {@code parts}. */
  static Expression any(List<Expression> parts) {
    return parts.size() == 1 ? parts.get(0) : new Any(parts);
  }

  /** At least one of {@code parts}. */
  static Expression any(Expression... parts) {
    return any(Arrays.asList(parts));
  }

  /** Always true. */
  static Expression always() {
    return new All(List.of());
  }

  /** Never true. */
  static Expression never() {
    return new Any(List.of());
  }
}
