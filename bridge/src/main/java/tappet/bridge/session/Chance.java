package tappet.bridge.session;

import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;

/** Chance, from a seed and nothing else. */
final class Chance {

  private final SplittableRandom dice;

  Chance(long seed) {
    dice = new SplittableRandom(seed);
  }

  /** A time between two numbers of seconds, in nanoseconds. */
  long secondsNs(int from, int to) {
    return dice.nextLong(TimeUnit.SECONDS.toNanos(from), TimeUnit.SECONDS.toNanos(to));
  }

  /** A number to order equal wishes by. */
  int lot() {
    return dice.nextInt();
  }
}
