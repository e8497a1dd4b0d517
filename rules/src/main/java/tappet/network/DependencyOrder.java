package tappet.network;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Orders equations so that each comes after all that it depends on, or finds their circle. */
final class DependencyOrder {

  private final Map<Variable, Expression> equations;
  private final Map<Variable, Expression> sorted = new LinkedHashMap<>();
  private final Set<Variable> openPath = new LinkedHashSet<>();

  DependencyOrder(Map<Variable, Expression> equations) {
    this.equations = equations;
  }

  Map<Variable, Expression> sorted() {
    equations.keySet().forEach(this::visit);
    return sorted;
  }

  private void visit(Variable equation) {
    if (sorted.containsKey(equation)) {
      return;
    }
    if (!openPath.add(equation)) {
      throw new CircularEquationException(circleFrom(equation));
    }
    variablesIn(equations.get(equation)).stream()
        .filter(variable -> variable.kind() == Variable.Kind.EQUATION)
        .forEach(this::visit);
    openPath.remove(equation);
    sorted.put(equation, equations.get(equation));
  }

  private List<Variable> circleFrom(Variable first) {
    List<Variable> path = new ArrayList<>(openPath);
    return path.subList(path.indexOf(first), path.size());
  }

  /** The variables an expression reads, each once, in order. */
  static Set<Variable> variablesIn(Expression expression) {
    Set<Variable> found = new LinkedHashSet<>();
    Deque<Expression> open = new ArrayDeque<>();
    open.push(expression);
    while (!open.isEmpty()) {
      Expression next = open.pop();
      if (next instanceof Expression.Is is) {
        found.add(is.variable());
      } else if (next instanceof Expression.Not not) {
        open.push(not.part());
      } else if (next instanceof Expression.All all) {
        all.parts().forEach(open::push);
      } else if (next instanceof Expression.Any any) {
        any.parts().forEach(open::push);
      }
    }
    return found;
  }
}
