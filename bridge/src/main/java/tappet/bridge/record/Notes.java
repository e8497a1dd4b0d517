package tappet.bridge.record;

import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.lcc.AliasSeed;
import tappet.lcc.NodeId;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;

/** What the notes of a recording mean. */
final class Notes {

  static final List<String> WORDS =
      List.of(
          "started",
          "from",
          "up",
          "overheard",
          "down",
          "overrun",
          "told",
          "answered",
          "kept",
          "missing",
          "ended");

  private static final String YES = "yes";
  private static final String NO = "no";
  private static final int HEX = 16;

  private Notes() {}

  /** What is said in a note of an item that is no frame. */
  static NoteText.Note of(long timeUs, Item item) {
    Map<String, String> fields = new LinkedHashMap<>();
    String word;
    if (item instanceof Item.Started started) {
      word = "started";
      write(started, fields);
    } else if (item instanceof Item.From from) {
      word = "from";
      fields.put("connection", from.connection());
    } else if (item instanceof Item.Up up) {
      word = "up";
      fields.put("connection", up.connection());
      fields.put("asked", yesOrNo(up.asked()));
    } else if (item instanceof Item.Overheard up) {
      word = "overheard";
      fields.put("connection", up.connection());
    } else if (item instanceof Item.Down down) {
      word = "down";
      fields.put("connection", down.connection());
      fields.put("why", down.why());
      fields.put("missed", yesOrNo(down.missed()));
    } else if (item instanceof Item.Told told) {
      word = "told";
      fields.put("number", Long.toString(told.number()));
      fields.put("by", told.who());
      told.at().ifPresent(at -> fields.put("at", at.toString()));
      fields.put("sentence", told.sentence());
    } else if (item instanceof Item.Answered answer) {
      word = "answered";
      fields.put("number", Long.toString(answer.number()));
      fields.put("granted", yesOrNo(answer.granted()));
      fields.put("words", answer.words());
    } else if (item instanceof Item.Kept kept) {
      word = "kept";
      kept.whyNot().ifPresent(why -> fields.put("not", why));
    } else if (item instanceof Item.Missing missing) {
      word = "missing";
      fields.put("count", Long.toString(missing.count()));
    } else if (item instanceof Item.Exchanged exchanged) {
      word = "exchanged";
      fields.put("files", exchanged.files());
    } else if (item instanceof Item.InputLost) {
      word = "overrun";
    } else if (item instanceof Item.Ended) {
      word = "ended";
    } else {
      throw new IllegalArgumentException("a frame is a line of its own: " + item);
    }
    return new NoteText.Note(timeUs, word, fields);
  }

  private static void write(Item.Started started, Map<String, String> fields) {
    fields.put("version", started.version());
    fields.put("layout", started.layout());
    fields.put("node", started.node().toString());
    fields.put("seed", Long.toHexString(started.seed().value()));
    if (started.clock() instanceof ClockPlan.Run run) {
      fields.put("clock", run.clock().word());
      fields.put("quarters", Integer.toString(run.rate().quarters()));
      fields.put("hour", Integer.toString(run.time().hour()));
      fields.put("minute", Integer.toString(run.time().minute()));
    } else if (started.clock() instanceof ClockPlan.Follow follow) {
      fields.put("clock", follow.clock().word());
    }
    fields.put("protections", started.protections());
  }

  private static String yesOrNo(boolean value) {
    return value ? YES : NO;
  }

  /**
   * What a note means.
   *
   * @throws IllegalArgumentException if it means nothing, saying why
   */
  static Item read(NoteText.Note note) {
    Fields fields = new Fields(note.fields());
    return switch (note.word()) {
      case "started" -> started(fields);
      case "from" -> new Item.From(fields.text("connection"));
      case "up" -> new Item.Up(fields.text("connection"), fields.yes("asked"));
      case "overheard" -> new Item.Overheard(fields.text("connection"));
      case "down" ->
          new Item.Down(fields.text("connection"), fields.text("why"), fields.yes("missed"));
      case "told" ->
          new Item.Told(
              fields.number("number"),
              fields.text("by"),
              fields.date("at"),
              fields.text("sentence"));
      case "answered" ->
          new Item.Answered(fields.number("number"), fields.yes("granted"), fields.text("words"));
      case "kept" -> new Item.Kept(fields.ifThere("not"));
      case "missing" -> new Item.Missing(fields.number("count"));
      case "exchanged" -> new Item.Exchanged(fields.text("files"));
      case "overrun" -> new Item.InputLost();
      case "ended" -> new Item.Ended();
      default -> throw new IllegalArgumentException("there is no note '%s'".formatted(note.word()));
    };
  }

  private static Item started(Fields fields) {
    return new Item.Started(
        fields.text("version"),
        fields.text("layout"),
        NodeId.of(fields.text("node")),
        new AliasSeed(Long.parseLong(fields.text("seed"), HEX)),
        fields.ifThere("clock").map(word -> clock(word, fields)).orElseGet(ClockPlan.None::new),
        fields.text("protections"));
  }

  private static ClockPlan clock(String word, Fields fields) {
    if (!FastClock.words().contains(word)) {
      throw new IllegalArgumentException("there is no clock '%s'".formatted(word));
    }
    FastClock clock = FastClock.of(word);
    return fields
        .ifThere("quarters")
        .<ClockPlan>map(
            any ->
                new ClockPlan.Run(
                    clock,
                    new Rate((int) fields.number("quarters")),
                    new Time((int) fields.number("hour"), (int) fields.number("minute"))))
        .orElseGet(() -> new ClockPlan.Follow(clock));
  }

  /** The fields of a note, each of which must be there and make sense. */
  private record Fields(Map<String, String> values) {

    Optional<String> ifThere(String key) {
      return Optional.ofNullable(values.get(key));
    }

    String text(String key) {
      return ifThere(key)
          .orElseThrow(() -> new IllegalArgumentException("'%s' is missing".formatted(key)));
    }

    long number(String key) {
      try {
        return Integer.parseInt(text(key));
      } catch (NumberFormatException e) {
        throw new IllegalArgumentException(
            "'%s' is '%s', expected a number".formatted(key, text(key)), e);
      }
    }

    boolean yes(String key) {
      String word = text(key);
      if (!word.equals(YES) && !word.equals(NO)) {
        throw new IllegalArgumentException("'%s' is '%s', expected yes or no".formatted(key, word));
      }
      return word.equals(YES);
    }

    Optional<LocalDateTime> date(String key) {
      try {
        return ifThere(key).map(LocalDateTime::parse);
      } catch (DateTimeException e) {
        throw new IllegalArgumentException(
            "'%s' is '%s', expected a time such as 2026-11-26T08:12:45".formatted(key, text(key)),
            e);
      }
    }
  }
}
