package tappet.proof.track;

import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The speeds that aspects speak of, from the lowest (interlocking sheet, C.1 to C.4). A diverging
 * aspect of route signalling and a medium one of speed signalling both mean the usual speed of a
 * turnout.
 */
enum Speed {
  RESTRICTED,
  SLOW,
  MEDIUM,
  LIMITED,
  LINE;

  /** The speed that a word of an aspect's name means; {@code line} is never said in one. */
  static Optional<Speed> of(String word) {
    return switch (word) {
      case "diverging" -> Optional.of(MEDIUM);
      case "restricting" -> Optional.of(RESTRICTED);
      default ->
          Stream.of(RESTRICTED, SLOW, MEDIUM, LIMITED)
              .filter(speed -> speed.name().toLowerCase(Locale.ROOT).equals(word))
              .findFirst();
    };
  }

  boolean atLeast(Speed other) {
    return compareTo(other) >= 0;
  }
}
