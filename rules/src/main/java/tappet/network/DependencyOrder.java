package tappet.network;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Orders equations so that each comes after all that it depends on, or finds their circle. The path
 * is kept here and not on the thread's stack, since a chain of equations may be of any length.
 */
final class DependencyOrder {

  /** An equation on the path and those it depends on that have not been looked at. */
  private static final class Branch {

    private final Variable equation;
    private final Iterator<Variable> ahead;

    Branch(Variable equation, Expression meaning) {
      this.equation = equation;
      this.ahead =
          meaning.variables().stream()
              .filter(variable -> variable.kind() == Variable.Kind.EQUATION)
              .iterator();
    }
  }

  private final Map<Variable, Expression> equations;
  private final Map<Variable, Expression> sorted = new LinkedHashMap<>();
  private final Set<Variable> openPath = new LinkedHashSet<>();
  private final Deque<Branch> branches = new ArrayDeque<>();

  DependencyOrder(Map<Variable, Expression> equations) {
    this.equations = equations;
  }

  Map<Variable, Expression> sorted() {
    equations.keySet().forEach(this::sortFrom);
    return sorted;
  }

  private void sortFrom(Variable first) {
    open(first);
    while (!branches.isEmpty()) {
      Branch deepest = branches.peek();
      if (deepest.ahead.hasNext()) {
        open(deepest.ahead.next());
      } else {
        close(branches.pop().equation);
      }
    }
  }

  private void open(Variable equation) {
    if (sorted.containsKey(equation)) {
      return;
    }
    if (!openPath.add(equation)) {
      throw new CircularEquationException(circleFrom(equation));
    }
    branches.push(new Branch(equation, equations.get(equation)));
  }

  private void close(Variable equation) {
    openPath.remove(equation);
    sorted.put(equation, equations.get(equation));
  }

  private List<Variable> circleFrom(Variable first) {
    List<Variable> path = new ArrayList<>(openPath);
    return path.subList(path.indexOf(first), path.size());
  }
}
