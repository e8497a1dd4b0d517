package tappet.bridge.box;

import java.io.IOException;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Properties;
import java.util.TreeMap;
import java.util.zip.CRC32;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Moment;
import tappet.interlocking.Protection;
import tappet.sentence.Protected;

/**
 * The protection of people as lines of text: one key a fact, with a check sum over all of them, so
 * that a text that is not whole is never taken for one.
 */
public final class ProtectionText {

  private static final String VERSION = "version";
  private static final String VERSION_1 = "1";
  private static final String PROTECTIONS = "protections";
  private static final String DOUBTS = "doubts";
  private static final String CHECK_SUM = "check.sum";
  private static final String BLANK = " ";

  private ProtectionText() {}

  /** The text of what is kept. */
  public static String of(KeptProtections kept) {
    Properties lines = new Properties();
    lines.setProperty(VERSION, VERSION_1);
    lines.setProperty(PROTECTIONS, String.valueOf(kept.protections().size()));
    lines.setProperty(DOUBTS, String.valueOf(kept.doubts().size()));
    for (int index = 0; index < kept.protections().size(); index++) {
      write(kept.protections().get(index), "protection." + index + ".", lines);
    }
    for (int index = 0; index < kept.doubts().size(); index++) {
      lines.setProperty("doubt." + index, kept.doubts().get(index));
    }
    lines.setProperty(CHECK_SUM, checkSum(lines));
    return text(lines);
  }

  private static void write(Protection protection, String key, Properties lines) {
    lines.setProperty(key + "by", protection.by().name().toLowerCase(Locale.ROOT));
    lines.setProperty(key + "on", String.join(BLANK, protection.devices()));
    lines.setProperty(key + "holder", protection.holder());
    protection.reason().ifPresent(reason -> lines.setProperty(key + "reason", reason));
    Moment since = protection.since();
    since.real().ifPresent(real -> lines.setProperty(key + "since", real.toString()));
    since.fast().ifPresent(minute -> lines.setProperty(key + "since.fast", String.valueOf(minute)));
  }

  /**
   * Reads what {@link #of} has written.
   *
   * @throws IllegalArgumentException if it is anything else, saying what is wrong
   */
  public static KeptProtections read(String text) {
    Properties lines = new Properties();
    try {
      lines.load(new StringReader(text));
    } catch (IOException e) {
      throw new IllegalArgumentException(e);
    }
    Object given = lines.remove(CHECK_SUM);
    if (!checkSum(lines).equals(given)) {
      throw new IllegalArgumentException("its check sum is wrong: it is damaged or was changed");
    }
    if (!VERSION_1.equals(lines.getProperty(VERSION))) {
      throw new IllegalArgumentException("it is of another version of Tappet");
    }
    List<Protection> protections = new ArrayList<>();
    for (int index = 0; index < number(lines, PROTECTIONS); index++) {
      protections.add(protection("protection." + index + ".", lines));
    }
    List<String> doubts = new ArrayList<>();
    for (int index = 0; index < number(lines, DOUBTS); index++) {
      doubts.add(required(lines, "doubt." + index));
    }
    return new KeptProtections(protections, doubts);
  }

  private static Protection protection(String key, Properties lines) {
    return new Protection(
        Protected.valueOf(required(lines, key + "by").toUpperCase(Locale.ROOT)),
        List.of(required(lines, key + "on").split(BLANK)),
        required(lines, key + "holder"),
        new Moment(real(lines, key + "since"), fast(lines, key + "since.fast")),
        Optional.ofNullable(lines.getProperty(key + "reason")));
  }

  private static Optional<LocalDateTime> real(Properties lines, String key) {
    try {
      return Optional.ofNullable(lines.getProperty(key)).map(LocalDateTime::parse);
    } catch (DateTimeException e) {
      throw new IllegalArgumentException("'" + key + "' is no time", e);
    }
  }

  private static OptionalInt fast(Properties lines, String key) {
    return lines.containsKey(key) ? OptionalInt.of(number(lines, key)) : OptionalInt.empty();
  }

  private static int number(Properties lines, String key) {
    return Integer.parseInt(required(lines, key));
  }

  private static String required(Properties lines, String key) {
    return Optional.ofNullable(lines.getProperty(key))
        .orElseThrow(() -> new IllegalArgumentException("'" + key + "' is missing"));
  }

  private static String checkSum(Properties lines) {
    CRC32 sum = new CRC32();
    new TreeMap<>(lines)
        .forEach(
            (key, value) ->
                sum.update((key + "=" + value + "\n").getBytes(StandardCharsets.UTF_8)));
    return Long.toHexString(sum.getValue());
  }

  private static String text(Properties lines) {
    StringWriter text = new StringWriter();
    try {
      lines.store(text, "Who is protected at work; written by Tappet, not to be changed by hand");
    } catch (IOException e) {
      throw new IllegalStateException("a text in memory cannot be written", e);
    }
    return text.toString();
  }
}
