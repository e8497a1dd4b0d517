package tappet.simulator;

import java.util.OptionalLong;

/** Picks the earlier of two moments at which something may be due. */
final class Deadlines {

  private Deadlines() {}

  static OptionalLong earlier(OptionalLong one, OptionalLong other) {
    if (one.isEmpty()) {
      return other;
    }
    return other.isEmpty() || one.getAsLong() <= other.getAsLong() ? one : other;
  }
}
