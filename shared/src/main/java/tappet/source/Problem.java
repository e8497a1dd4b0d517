package tappet.source;

import java.util.Comparator;

/**
 * One mistake in an owner's file, in the owner's words.
 *
 * @param place where it stands
 * @param wrong what is wrong, without a full stop
 * @param meant what was probably meant or what to type
 */
public record Problem(Place place, String wrong, String meant) implements Comparable<Problem> {

  private static final Comparator<Problem> READING_ORDER =
      Comparator.comparing(Problem::place).thenComparing(Problem::wrong);

  @Override
  public int compareTo(Problem other) {
    return READING_ORDER.compare(this, other);
  }

  /** {@code file:line:column: what is wrong; what was meant}. */
  @Override
  public String toString() {
    return place + ": " + wrong + "; " + meant;
  }
}
