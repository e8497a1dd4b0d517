package tappet.proof;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/** Asks the solver in which tick from the start a variable can first have a value. */
final class BoundedSearch {

  private final Network network;

  BoundedSearch(Network network) {
    this.network = network;
  }

  /** By variable, where it can be so up to a last tick at all. */
  Map<Variable, Integer> first(boolean value, Collection<Variable> asked, int last) {
    Map<Variable, Integer> first = new HashMap<>();
    List<Variable> behind = new Behind(network, asked).all();
    List<Variable> left = new ArrayList<>(asked);
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(network, solver, Unrolling.From.START);
    for (int tick = 0; tick <= last; tick++) {
      write(behind, tick, unrolling);
      for (Variable variable : List.copyOf(left)) {
        int literal = unrolling.literal(variable, tick);
        if (solver.search(value ? literal : -literal) == Solver.Outcome.SATISFIED) {
          first.put(variable, tick);
          left.remove(variable);
        }
      }
    }
    return first;
  }

  /** Whether it can be so in a tick, where nothing is written but what the question asks for. */
  boolean canBe(Variable variable, boolean value, int tick) {
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(network, solver, Unrolling.From.START);
    int literal = unrolling.literal(variable, tick);
    return solver.search(value ? literal : -literal) == Solver.Outcome.SATISFIED;
  }

  /** That a latch has settled in a tick is demanded where its value in the next one is written. */
  static void write(List<Variable> behind, int tick, Unrolling unrolling) {
    for (Variable variable : behind) {
      unrolling.literal(variable, tick);
      if (variable.kind() == Variable.Kind.LATCH) {
        unrolling.literal(variable, tick + 1);
      }
    }
  }
}
