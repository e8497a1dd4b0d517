package tappet.layout;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** What a signal means to a train that meets it at its most restrictive aspect. */
public enum SignalKind {
  /** It is not passed at Stop without authority. */
  ABSOLUTE("stop"),
  /** It bears a number plate: a train stops and then proceeds at restricted speed. */
  AUTOMATIC("stop-and-proceed"),
  /** A low signal of yards and sidings; absolute. */
  DWARF("stop");

  private final String mostRestrictive;

  SignalKind(String mostRestrictive) {
    this.mostRestrictive = mostRestrictive;
  }

  /** The owner's word. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** What rule books call its most restrictive aspect, which files and rules call {@code stop}. */
  public String mostRestrictive() {
    return mostRestrictive;
  }

  /** The words of all kinds. */
  public static List<String> words() {
    return Arrays.stream(values()).map(SignalKind::word).toList();
  }

  /** The kind of this word, which is one of {@link #words}. */
  static SignalKind of(String word) {
    return valueOf(word.toUpperCase(Locale.ROOT));
  }
}
