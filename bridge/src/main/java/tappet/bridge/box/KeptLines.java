package tappet.bridge.box;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.zip.CRC32;

/**
 * What is kept for the next start as lines of text: one key a fact, with a check sum over all of
 * them, so that a text that is not whole is never taken for one.
 */
public final class KeptLines {

  private static final String VERSION = "version";
  private static final String VERSION_1 = "1";
  private static final String CHECK_SUM = "check.sum";

  private final Map<String, String> lines;

  private KeptLines(Map<String, String> lines) {
    this.lines = lines;
  }

  /** No facts yet. */
  public static KeptLines empty() {
    KeptLines empty = new KeptLines(new TreeMap<>());
    empty.put(VERSION, VERSION_1);
    return empty;
  }

  /**
   * Reads what {@link #text} has written.
   *
   * @throws IllegalArgumentException if it is anything else, saying what is wrong
   */
  public static KeptLines read(String text) {
    Map<String, String> lines = PropertyText.facts(text);
    String given = lines.remove(CHECK_SUM);
    if (!checkSum(lines).equals(given)) {
      throw new IllegalArgumentException("its check sum is wrong: it is damaged or was changed");
    }
    if (!VERSION_1.equals(lines.get(VERSION))) {
      throw new IllegalArgumentException("it is of another version of Tappet");
    }
    return new KeptLines(lines);
  }

  /** Adds a fact. */
  public void put(String key, Object value) {
    lines.put(key, String.valueOf(value));
  }

  /** A fact that may be missing. */
  public Optional<String> find(String key) {
    return Optional.ofNullable(lines.get(key));
  }

  /**
   * A fact that is always there.
   *
   * @throws IllegalArgumentException if it is not
   */
  public String get(String key) {
    return find(key).orElseThrow(() -> new IllegalArgumentException("'" + key + "' is missing"));
  }

  /**
   * A number that is always there.
   *
   * @throws IllegalArgumentException if it is not, or is no number
   */
  public long number(String key) {
    return Long.parseLong(get(key));
  }

  /**
   * All facts under this title.
   *
   * @param title what they are, in one line
   */
  public String text(String title) {
    Map<String, String> all = new TreeMap<>(lines);
    all.put(CHECK_SUM, checkSum(lines));
    return PropertyText.of(title, all);
  }

  private static String checkSum(Map<String, String> lines) {
    CRC32 sum = new CRC32();
    lines.forEach(
        (key, value) -> sum.update((key + "=" + value + "\n").getBytes(StandardCharsets.UTF_8)));
    return Long.toHexString(sum.getValue());
  }
}
