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

/** Which variables of a network its latches read before they change. */
final class Dependencies {

  /** Through more equations than that, reading the same says little. */
  private static final int NEAR = 2;

  private final Network network;
  private final Map<Variable, Set<Variable>> behind = new HashMap<>();
  private final Map<Variable, List<Variable>> readers = new HashMap<>();
  private final Map<Variable, List<Variable>> ownReaders = new HashMap<>();

  Dependencies(Network network) {
    this.network = network;
    for (Latch latch : network.latches().values()) {
      Set<Variable> own = new LinkedHashSet<>();
      own.addAll(latch.set().variables());
      own.addAll(latch.reset().variables());
      own.forEach(one -> note(ownReaders, one, latch));
      Set<Variable> all = new LinkedHashSet<>(own);
      own.forEach(one -> all.addAll(behind(one)));
      all.forEach(one -> note(readers, one, latch));
    }
  }

  /** The latches that read a variable, by themselves or through equations. */
  List<Variable> readersOf(Variable variable) {
    return readers.getOrDefault(variable, List.of());
  }

  /** The latches whose own equations name a variable. */
  List<Variable> ownReadersOf(Variable variable) {
    return ownReaders.getOrDefault(variable, List.of());
  }

  /** What an equation names, and what that names, through few equations; nothing for others. */
  Set<Variable> near(Variable equation) {
    Set<Variable> near = new LinkedHashSet<>();
    Set<Variable> edge = Set.of(equation);
    for (int equations = 0; equations < NEAR; equations++) {
      Set<Variable> further = new LinkedHashSet<>();
      edge.stream()
          .filter(network.equations()::containsKey)
          .forEach(one -> further.addAll(network.equations().get(one).variables()));
      near.addAll(further);
      edge = further;
    }
    return near;
  }

  private static void note(Map<Variable, List<Variable>> into, Variable read, Latch reader) {
    into.computeIfAbsent(read, any -> new ArrayList<>()).add(reader.variable());
  }

  /** All that an equation reads, through other equations. */
  private Set<Variable> behind(Variable variable) {
    Expression meaning = network.equations().get(variable);
    if (meaning == null) {
      return Set.of();
    }
    Set<Variable> known = behind.get(variable);
    if (known == null) {
      Set<Variable> named = new LinkedHashSet<>();
      named.addAll(meaning.variables());
      known = new LinkedHashSet<>(named);
      for (Variable one : named) {
        known.addAll(behind(one));
      }
      behind.put(variable, known);
    }
    return known;
  }
}
