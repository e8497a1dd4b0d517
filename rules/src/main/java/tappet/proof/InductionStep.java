package tappet.proof;

import tappet.network.Variable;
import tappet.proof.sat.Clauses;
import tappet.proof.sat.Unrolling;

/** The question of an induction: can something come about after ticks in which it was not so? */
final class InductionStep {

  private InductionStep() {}

  /** Demands that a variable has a value for the first time after so many ticks. */
  static void demand(
      Variable variable,
      boolean value,
      int ticks,
      LemmaIndex lemmas,
      Unrolling unrolling,
      Clauses clauses) {
    for (int tick = 0; tick <= ticks; tick++) {
      int literal = unrolling.literal(variable, tick);
      clauses.demand(value == (tick == ticks) ? literal : -literal);
    }
    for (int tick = 0; tick <= ticks; tick++) {
      lemmas.demand(unrolling, clauses, tick);
    }
  }
}
