package tappet.proof;

import tappet.network.Variable;
import tappet.proof.sat.Unrolling;

/**
 * That one latch has a value, or another one has: {@code one == oneValue || other == otherValue}.
 *
 * @param one the latch that was declared first
 */
record Lemma(Variable one, boolean oneValue, Variable other, boolean otherValue) {

  /** Its two literals in a tick of an unrolling; one of them must hold. */
  int[] literals(Unrolling unrolling, int tick) {
    int oneLiteral = unrolling.literal(one, tick);
    int otherLiteral = unrolling.literal(other, tick);
    return new int[] {
      oneValue ? oneLiteral : -oneLiteral, otherValue ? otherLiteral : -otherLiteral
    };
  }

  @Override
  public String toString() {
    return (oneValue ? "" : "not ") + one + ", or " + (otherValue ? "" : "not ") + other;
  }
}
