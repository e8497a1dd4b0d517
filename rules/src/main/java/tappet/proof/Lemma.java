package tappet.proof;

import java.util.Optional;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Unrolling;

/**
 * That one latch has a value, or another one has: {@code one == oneValue || other == otherValue}.
 *
 * @param one the latch that was declared first
 */
record Lemma(Variable one, boolean oneValue, Variable other, boolean otherValue) {

  private static final String NOT = "not ";
  private static final String OR = ", or ";

  /** Its two literals in a tick of an unrolling; one of them must hold. */
  int[] literals(Unrolling unrolling, int tick) {
    int oneLiteral = unrolling.literal(one, tick);
    int otherLiteral = unrolling.literal(other, tick);
    return new int[] {
      oneValue ? oneLiteral : -oneLiteral, otherValue ? otherLiteral : -otherLiteral
    };
  }

  /** It written the other way round is the same lemma. */
  static Lemma of(Variable one, boolean oneValue, Variable other, boolean otherValue) {
    return one.index() < other.index()
        ? new Lemma(one, oneValue, other, otherValue)
        : new Lemma(other, otherValue, one, oneValue);
  }

  /** A lemma written by {@link #toString}; empty where the network has not both latches. */
  static Optional<Lemma> read(String written, Network network) {
    int or = written.indexOf(OR);
    if (or < 0) {
      return Optional.empty();
    }
    String one = written.substring(0, or);
    String other = written.substring(or + OR.length());
    return latch(one, network)
        .flatMap(
            first ->
                latch(other, network).map(second -> of(first, !isNot(one), second, !isNot(other))));
  }

  private static boolean isNot(String side) {
    return side.startsWith(NOT);
  }

  private static Optional<Variable> latch(String side, Network network) {
    return network
        .find(isNot(side) ? side.substring(NOT.length()) : side)
        .filter(variable -> variable.kind() == Variable.Kind.LATCH);
  }

  /** Whether it holds before anything has happened. */
  boolean holdsAtStart(Network network) {
    return network.latches().get(one).initially() == oneValue
        || network.latches().get(other).initially() == otherValue;
  }

  /** Spread wider than a record's: there are hundreds of thousands of them. */
  @Override
  public int hashCode() {
    int sides = (oneValue ? 2 : 0) + (otherValue ? 1 : 0);
    return ((one.index() * 65_599 + other.index()) << 2) + sides;
  }

  @Override
  public String toString() {
    return (oneValue ? "" : NOT) + one + OR + (otherValue ? "" : NOT) + other;
  }
}
