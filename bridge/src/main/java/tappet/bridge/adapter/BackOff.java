package tappet.bridge.adapter;

import java.time.Duration;

/**
 * How long a broken line rests before the next try: twice as long after every try in vain.
 *
 * @param first the first rest, above zero
 * @param longest the rest never gets longer than this, at least {@code first}; a line up for that
 *     long starts anew with {@code first}
 */
public record BackOff(Duration first, Duration longest) {

  /** Soon enough for a cable put back, seldom enough for a hub switched off for the night. */
  public static final BackOff USUAL = new BackOff(Duration.ofMillis(250), Duration.ofSeconds(5));

  private static final int DOUBLINGS_MAX = 30;

  public BackOff {
    if (first.isNegative() || first.isZero() || longest.compareTo(first) < 0) {
      throw new IllegalArgumentException(
          "back-off from %s to %s, expected 0 < first <= longest".formatted(first, longest));
    }
  }

  /** The rest before the next try, in nanoseconds, after this many tries in vain (0 or more). */
  long restNs(int failures) {
    Duration doubled = first.multipliedBy(1L << Math.min(failures, DOUBLINGS_MAX));
    return (doubled.compareTo(longest) < 0 ? doubled : longest).toNanos();
  }
}
