package tappet.proof;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/** Which variables of a network its latches read, through equations, before they change. */
final class Dependencies {

  /** Through more equations than that, reading the same says little. */
  private static final int NEAR = Integer.getInteger("near", 2);

  private final Network network;
  private final Map<Variable, Set<Variable>> readBy = new HashMap<>();
  private final Map<Variable, List<Variable>> readers = new HashMap<>();
  private final Map<Variable, List<Variable>> nearReaders = new HashMap<>();

  Dependencies(Network network) {
    this.network = network;
    for (Latch latch : network.latches().values()) {
      Set<Variable> read = new LinkedHashSet<>();
      collect(latch.set(), read);
      collect(latch.reset(), read);
      read.forEach(
          one -> readers.computeIfAbsent(one, any -> new ArrayList<>()).add(latch.variable()));
      Set<Variable> near = new LinkedHashSet<>();
      collect(latch.set(), NEAR, near);
      collect(latch.reset(), NEAR, near);
      near.forEach(
          one -> nearReaders.computeIfAbsent(one, any -> new ArrayList<>()).add(latch.variable()));
    }
  }

  /** The latches that read a variable through few equations, in the order of their declaration. */
  List<Variable> nearReadersOf(Variable variable) {
    return nearReaders.getOrDefault(variable, List.of());
  }

  private void collect(Expression expression, int equations, Set<Variable> into) {
    if (expression instanceof Expression.Is is) {
      into.add(is.variable());
      Expression meaning = network.equations().get(is.variable());
      if (meaning != null && equations > 0) {
        collect(meaning, equations - 1, into);
      }
    } else if (expression instanceof Expression.Not not) {
      collect(not.part(), equations, into);
    } else if (expression instanceof Expression.All all) {
      all.parts().forEach(part -> collect(part, equations, into));
    } else if (expression instanceof Expression.Any any) {
      any.parts().forEach(part -> collect(part, equations, into));
    }
  }

  /** The latches that read a variable, in the order of their declaration. */
  List<Variable> readersOf(Variable variable) {
    return readers.getOrDefault(variable, List.of());
  }

  private void collect(Expression expression, Set<Variable> into) {
    if (expression instanceof Expression.Is is) {
      into.add(is.variable());
      into.addAll(behind(is.variable()));
    } else if (expression instanceof Expression.Not not) {
      collect(not.part(), into);
    } else if (expression instanceof Expression.All all) {
      all.parts().forEach(part -> collect(part, into));
    } else if (expression instanceof Expression.Any any) {
      any.parts().forEach(part -> collect(part, into));
    }
  }

  /** All that an equation reads, through other equations. */
  private Set<Variable> behind(Variable variable) {
    Expression meaning = network.equations().get(variable);
    if (meaning == null) {
      return Set.of();
    }
    Set<Variable> known = readBy.get(variable);
    if (known == null) {
      known = new LinkedHashSet<>();
      collect(meaning, known);
      readBy.put(variable, known);
    }
    return known;
  }
}
