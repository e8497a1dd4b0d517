package tappet.layout;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The colours of signal lights. */
public enum Colour {
  RED,
  YELLOW,
  GREEN,
  /** Lunar white. */
  LUNAR;

  /** The owner's word: {@code red}, {@code yellow}, {@code green}, {@code lunar}. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The words of all colours. */
  public static List<String> words() {
    return Arrays.stream(values()).map(Colour::word).toList();
  }

  /** The colour of this word. */
  public static Optional<Colour> of(String word) {
    return Arrays.stream(values()).filter(colour -> colour.word().equals(word)).findFirst();
  }
}
