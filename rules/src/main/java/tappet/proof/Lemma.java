package tappet.proof;

import tappet.network.Variable;

/**
 * That one latch has a value, or another one has: {@code one == oneValue || other == otherValue}.
 *
 * @param one the latch that was declared first
 */
record Lemma(Variable one, boolean oneValue, Variable other, boolean otherValue) {

  /** Where it is written down in an unrolling, its two literals; one of them must hold. */
  int[] literals(int oneLiteral, int otherLiteral) {
    return new int[] {
      oneValue ? oneLiteral : -oneLiteral, otherValue ? otherLiteral : -otherLiteral
    };
  }

  @Override
  public String toString() {
    return (oneValue ? "" : "not ") + one + ", or " + (otherValue ? "" : "not ") + other;
  }
}
