package tappet.lcc;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/**
 * What a producer or consumer knows of the state that an event stands for (S-9.7.3.1 §4.3, §4.6).
 */
public enum Validity {
  /** The state is the one that would make it produce the event, or that the event brings about. */
  VALID(0),
  /** The state is known not to be that. */
  INVALID(1),
  /** It cannot tell. */
  UNKNOWN(3);

  private final int modifier;

  Validity(int modifier) {
    this.modifier = modifier;
  }

  /** The two lowest bits of the MTI. */
  int modifier() {
    return modifier;
  }

  /** Empty for the reserved modifier. */
  static Optional<Validity> ofModifier(int modifier) {
    return Arrays.stream(values()).filter(validity -> validity.modifier == modifier).findFirst();
  }

  String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
