package tappet.simulator;

import java.util.Locale;
import tappet.layout.Signal;

/**
 * How fast an engineer goes on by an aspect, as a part of the train's own speed, until the next
 * signal. What an aspect means is read from its name, as rule books name them (common practice:
 * NORAC, CROR and western route signalling agree on these words).
 */
enum AspectSpeed {
  STOP(0),
  /** Able to stop within half the range of vision. */
  RESTRICTING(0.3),
  DIVERGING(0.5),
  /** Prepared to stop at the next signal. */
  APPROACH(0.6),
  LIMITED(0.75),
  LINE(1);

  private final double part;

  AspectSpeed(double part) {
    this.part = part;
  }

  /** The part of the train's own speed, 0 to 1. */
  double part() {
    return part;
  }

  /** The speed for the aspect of this name; one of a name unknown here is a proceed aspect. */
  static AspectSpeed of(String aspect) {
    String name = aspect.toLowerCase(Locale.ROOT);
    // A dark signal is read as Stop (Army TR 06358).
    if (name.startsWith(Signal.STOP) || name.equals("dark")) {
      return STOP;
    }
    if (name.contains("restrict") || name.startsWith("slow")) {
      return RESTRICTING;
    }
    if (name.startsWith("diverging") || name.startsWith("medium")) {
      return DIVERGING;
    }
    if (name.startsWith("limited")) {
      return LIMITED;
    }
    return name.equals("approach") ? APPROACH : LINE;
  }
}
