package tappet.bridge.journal;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.bridge.view.JsonText;

/** Lines of the journal as people and programs read them. Any thread may ask. */
final class Telling {

  /** What the bus is called for CAN tools. */
  static final String BUS = "can0";

  static final String CSV_HEAD = "seq,session,time,layout time,kind,about,who,text,granted";

  private static final long US_PER_MS = 1_000;
  private static final int MINUTES_PER_HOUR = 60;
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss.SSS", Locale.ROOT);
  private static final String INDENT = " ".repeat(44);

  private final ZoneId zone;

  /**
   * @param zone where the railroad stands
   */
  Telling(ZoneId zone) {
    this.zone = zone;
  }

  /** For people: local time, the layout's, the kind, and what happened. */
  String line(Found found) {
    List<String> words = words(found.row()).strip().lines().toList();
    String first =
        "%s  %-5s  %-10s  %s"
            .formatted(
                time(found.clocks().wallUs()),
                layoutTime(found.clocks().minute()),
                found.row().kind().word(),
                words.isEmpty() ? "" : words.get(0));
    return Stream.concat(
            Stream.of(first.stripTrailing()), words.stream().skip(1).map(more -> INDENT + more))
        .collect(Collectors.joining("\n"));
  }

  /** What happened, in one or more lines. */
  static String words(Row row) {
    return switch (row.kind()) {
      case STARTED, REMARK, CHANGE, ALARM, ALARM_GONE, NOT_KEPT -> row.text();
      case EXCHANGED -> "other files have taken over: " + row.text();
      case ENDED -> "in order";
      case KEPT -> "protections are kept";
      case MISSING -> row.number() + " things could not be written";
      case OVERRUN -> "the daemon was overrun and lost what came in";
      case UP -> row.about() + (row.text() == null ? "" : ", " + row.text());
      case DOWN -> row.about() + " " + row.text();
      case TOLD, WRITTEN, ALARM_SEEN -> row.who() + ": " + row.text();
      case ANSWERED -> (row.yes() ? "" : "refused: ") + row.text();
      case DARK -> row.about() + " is dark";
      case ASPECT -> row.about() + " is to show " + row.text();
      case SWITCH -> row.about() + " is sent " + row.text();
      case LOCK, LAMP, CROSSING, OPENING -> row.about() + " is to be " + row.text();
      case HEARD -> row.about() + "  " + row.text();
      case SENT -> row.text();
    };
  }

  String time(long wallUs) {
    return TIME.format(Instant.ofEpochMilli(wallUs / US_PER_MS).atZone(zone));
  }

  static String layoutTime(int minute) {
    return minute == Line.NO_MINUTE
        ? "-"
        : "%02d:%02d".formatted(minute / MINUTES_PER_HOUR, minute % MINUTES_PER_HOUR);
  }

  /** A line of comma-separated values (RFC 4180), without its end. */
  String csv(Found found) {
    Row row = found.row();
    return Stream.of(
            String.valueOf(found.seq()),
            String.valueOf(found.session()),
            time(found.clocks().wallUs()),
            found.clocks().minute() == Line.NO_MINUTE ? "" : layoutTime(found.clocks().minute()),
            row.kind().word(),
            orNothing(row.about()),
            orNothing(row.who()),
            orNothing(row.text()).strip(),
            row.yes() == null ? "" : row.yes() ? "yes" : "no")
        .map(Telling::csvField)
        .collect(Collectors.joining(","));
  }

  private static String orNothing(String text) {
    return text == null ? "" : text;
  }

  /** A spreadsheet takes a field that begins so for a formula, and runs what somebody wrote. */
  private static String csvField(String text) {
    String harmless = text.matches("(?s)[=+@\\t\\r-].*") ? "'" + text : text;
    return harmless.matches("(?s).*[\",\r\n].*")
        ? '"' + harmless.replace("\"", "\"\"") + '"'
        : harmless;
  }

  /** An object on one line, without its end. */
  static String json(Found found) {
    return JsonText.object(json -> fields(found, json));
  }

  /** The fields of an object. */
  static void fields(Found found, JsonGenerator json) throws IOException {
    Row row = found.row();
    json.writeNumberField("seq", found.seq());
    json.writeNumberField("session", found.session());
    json.writeNumberField("at", found.clocks().wallUs() / US_PER_MS);
    if (found.clocks().minute() != Line.NO_MINUTE) {
      json.writeStringField("layoutTime", layoutTime(found.clocks().minute()));
    }
    json.writeStringField("kind", row.kind().word());
    field("about", row.about(), json);
    field("who", row.who(), json);
    field("text", row.text(), json);
    if (row.yes() != null) {
      json.writeBooleanField("granted", row.yes());
    }
    json.writeStringField("words", words(row).strip());
  }

  private static void field(String name, String text, JsonGenerator json) throws IOException {
    if (text != null) {
      json.writeStringField(name, text.strip());
    }
  }
}
