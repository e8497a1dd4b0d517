package tappet.layout;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** Who throws a switch. */
public enum Control {
  /** A motor, sent by the dispatcher and by routes. */
  DISPATCHER,
  /** A motor, sent from a control beside the track. */
  LOCAL,
  /** A hand, under an electric lock that the dispatcher releases. */
  RELEASED,
  /** A hand. */
  HAND,
  /** Trains that trail through it, and a spring that closes it normal again. */
  SPRUNG;

  /** The owner's word, such as {@code dispatcher}. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** Whether a motor moves it, which can be sent. */
  public boolean hasMotor() {
    return this == DISPATCHER || this == LOCAL;
  }

  static List<String> words() {
    return Arrays.stream(values()).map(Control::word).toList();
  }

  static Control of(String word) {
    return valueOf(word.toUpperCase(Locale.ROOT));
  }
}
