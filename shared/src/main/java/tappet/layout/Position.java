package tappet.layout;

import java.util.Locale;

/** The two positions of a switch. */
public enum Position {
  NORMAL,
  REVERSE;

  /** The other one. */
  public Position opposite() {
    return this == NORMAL ? REVERSE : NORMAL;
  }

  /** The owner's word, {@code normal} or {@code reverse}. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
