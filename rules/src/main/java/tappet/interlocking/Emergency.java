package tappet.interlocking;

import java.util.Locale;

/** The emergencies that any node on the bus may call (S-9.7.0.4 §5.2). */
public enum Emergency {
  /** Everything is to be de-energized. */
  OFF,
  /** Everything is to come to a safe stand; power may stay on. */
  STOP;

  /** {@code emergency off} or {@code emergency stop}. */
  public String word() {
    return "emergency " + name().toLowerCase(Locale.ROOT);
  }
}
