package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.UnsettledException;
import tappet.network.Variable;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * What the solver finds from where a network stands, the network does when it is told the same, one
 * step after the other (interlocking sheet, P9). To try other seeds: {@code -Dtappet.seed=N}.
 */
class RunsOfStoriesTest {

  private static final int NETWORKS = 100;
  private static final int TICKS = 6;
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);

  private int told;
  private int swinging;

  @Test
  void networkDoesWhatTheSolverFinds() {
    LongStream.range(FIRST_SEED, FIRST_SEED + NETWORKS).forEach(this::tryNetwork);
    assertTrue(swinging < NETWORKS / 2, swinging + " networks never settle");
    assertTrue(told > NETWORKS / 2, "only " + told + " stories of some length");
  }

  private void tryNetwork(long seed) {
    Network network = TimedNetwork.of(seed);
    try {
      Stepper standing = new Stepper(network);
      for (Variable wanted : network.variables()) {
        tryStory(wanted, !standing.value(wanted), standing, seed);
      }
    } catch (UnsettledException e) {
      swinging++;
    }
  }

  private void tryStory(Variable wanted, boolean value, Stepper standing, long seed) {
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(standing.network(), solver, standing::value);
    List<Variable> behind = new Behind(standing.network(), List.of(wanted)).all();
    for (int tick = 0; tick <= TICKS; tick++) {
      BoundedSearch.write(behind, tick, unrolling);
      int literal = unrolling.literal(wanted, tick);
      if (solver.search(value ? literal : -literal) == Solver.Outcome.SATISFIED) {
        Set<Variable> changed = run(standing.again(), behind, tick, unrolling, solver);
        assertTrue(changed.contains(wanted), "seed " + seed + ": " + wanted + ", tick " + tick);
        told += tick > 1 ? 1 : 0;
        return;
      }
    }
  }

  /** What changes when a network is told what the solver has found. */
  private static Set<Variable> run(
      Stepper stepper, List<Variable> behind, int last, Unrolling unrolling, Solver solver) {
    Set<Variable> changed = new HashSet<>();
    for (int tick = 0; tick <= last; tick++) {
      for (Variable variable : behind) {
        boolean value = solver.value(unrolling.literal(variable, tick));
        if (variable.kind() == Variable.Kind.INPUT) {
          stepper.set(variable, value);
        } else if (variable.kind() == Variable.Kind.PULSE && value) {
          stepper.pulse(variable);
        }
      }
      stepper.step((variable, value) -> changed.add(variable));
    }
    return changed;
  }
}
