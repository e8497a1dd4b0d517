package tappet.bridge.journal;

import java.time.Duration;

/**
 * How much is kept.
 *
 * @param keep what is older than this goes; more than zero
 * @param bytesMax the file grows no larger, 1 MB or more; its write-ahead log may take some
 *     megabytes besides
 */
public record Limits(Duration keep, long bytesMax) {

  /** A summer's evenings of a club, on a memory card that has other things to hold. */
  public static final Limits USUAL = new Limits(Duration.ofDays(30), 200_000_000);

  /** The least that makes sense. */
  public static final long BYTES_LEAST = 1_000_000;

  public Limits {
    if (keep.isNegative() || keep.isZero()) {
      throw new IllegalArgumentException("keep " + keep + ", expected more than zero");
    }
    if (bytesMax < BYTES_LEAST) {
      throw new IllegalArgumentException("bytes " + bytesMax + ", expected 1 MB or more");
    }
  }
}
