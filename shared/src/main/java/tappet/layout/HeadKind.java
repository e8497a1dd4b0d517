package tappet.layout;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** How the lights of one signal head are arranged (common practice). */
public enum HeadKind {
  /** One lens for all colours. */
  SEARCHLIGHT,
  /** Separate lights, one above the other. */
  VERTICAL,
  /** Three lights in a triangle. */
  TRIANGULAR,
  /** An arm, with a light for the night. */
  SEMAPHORE;

  /** The owner's word. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The words of all kinds. */
  public static List<String> words() {
    return Arrays.stream(values()).map(HeadKind::word).toList();
  }

  /** The kind of this word, which is one of {@link #words}. */
  static HeadKind of(String word) {
    return valueOf(word.toUpperCase(Locale.ROOT));
  }
}
