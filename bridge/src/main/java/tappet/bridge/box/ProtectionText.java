package tappet.bridge.box;

import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import tappet.interlocking.KeptProtections;
import tappet.interlocking.Moment;
import tappet.interlocking.Protection;
import tappet.sentence.Protected;

/** The protection of people as text that outlives the daemon. */
public final class ProtectionText {

  private static final String PROTECTIONS = "protections";
  private static final String DOUBTS = "doubts";
  private static final String BLANK = " ";

  private ProtectionText() {}

  /** The text of what is kept. */
  public static String of(KeptProtections kept) {
    KeptLines lines = KeptLines.empty();
    lines.put(PROTECTIONS, kept.protections().size());
    lines.put(DOUBTS, kept.doubts().size());
    for (int index = 0; index < kept.protections().size(); index++) {
      write(kept.protections().get(index), "protection." + index + ".", lines);
    }
    for (int index = 0; index < kept.doubts().size(); index++) {
      lines.put("doubt." + index, kept.doubts().get(index));
    }
    return lines.text("Who is protected at work; written by Tappet, not to be changed by hand");
  }

  private static void write(Protection protection, String key, KeptLines lines) {
    lines.put(key + "by", protection.by().name().toLowerCase(Locale.ROOT));
    lines.put(key + "on", String.join(BLANK, protection.devices()));
    lines.put(key + "holder", protection.holder());
    protection.reason().ifPresent(reason -> lines.put(key + "reason", reason));
    Moment since = protection.since();
    since.real().ifPresent(real -> lines.put(key + "since", real));
    since.fast().ifPresent(minute -> lines.put(key + "since.fast", minute));
  }

  /**
   * Reads what {@link #of} has written.
   *
   * @throws IllegalArgumentException if it is anything else, saying what is wrong
   */
  public static KeptProtections read(String text) {
    KeptLines lines = KeptLines.read(text);
    List<Protection> protections = new ArrayList<>();
    for (int index = 0; index < lines.number(PROTECTIONS); index++) {
      protections.add(protection("protection." + index + ".", lines));
    }
    List<String> doubts = new ArrayList<>();
    for (int index = 0; index < lines.number(DOUBTS); index++) {
      doubts.add(lines.get("doubt." + index));
    }
    return new KeptProtections(protections, doubts);
  }

  private static Protection protection(String key, KeptLines lines) {
    return new Protection(
        Protected.valueOf(lines.get(key + "by").toUpperCase(Locale.ROOT)),
        List.of(lines.get(key + "on").split(BLANK)),
        lines.get(key + "holder"),
        new Moment(real(lines, key + "since"), fast(lines, key + "since.fast")),
        lines.find(key + "reason"));
  }

  private static Optional<LocalDateTime> real(KeptLines lines, String key) {
    try {
      return lines.find(key).map(LocalDateTime::parse);
    } catch (DateTimeException e) {
      throw new IllegalArgumentException("'" + key + "' is no time", e);
    }
  }

  private static OptionalInt fast(KeptLines lines, String key) {
    return lines.find(key).isPresent()
        ? OptionalInt.of((int) lines.number(key))
        : OptionalInt.empty();
  }
}
