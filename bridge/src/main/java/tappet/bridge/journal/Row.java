package tappet.bridge.journal;

import java.util.Optional;
import tappet.bridge.record.Item;
import tappet.interlocking.Output;

/**
 * A thing that is no frame, as it stands in the table of entries. What a kind has no use for is
 * null, as in the table.
 *
 * @param about a device or connection
 * @param who said it
 * @param text what was said or shown
 * @param number of a request, or how many
 * @param yes whether it was granted, asked for, missed
 * @param local date and time where the railroad stands, for a request
 */
record Row(
    Kind kind, String about, String who, String text, Long number, Boolean yes, String local) {

  /** What is said of a connection that is up, and only heard. */
  private static final String OVERHEARD = "only heard";

  static Row of(Kept what) {
    if (what instanceof Kept.Taken taken) {
      return of(taken.item());
    } else if (what instanceof Kept.Ordered ordered) {
      return of(ordered.output());
    } else if (what instanceof Kept.Changed changed) {
      return said(Kind.CHANGE, null, changed.what());
    } else if (what instanceof Kept.RunsBy files) {
      return said(Kind.CHANGE, null, files.words());
    } else if (what instanceof Kept.Alarm alarm) {
      return said(alarm.stands() ? Kind.ALARM : Kind.ALARM_GONE, null, alarm.what());
    } else if (what instanceof Kept.Written written) {
      Kind kind = written.seen() ? Kind.ALARM_SEEN : Kind.WRITTEN;
      String answer = written.done() ? "" : ": " + written.words();
      return new Row(
          kind, null, written.who(), written.sentence() + answer, null, written.done(), null);
    }
    throw new IllegalArgumentException("a frame has a table of its own: " + what);
  }

  private static Row of(Item item) {
    if (item instanceof Item.Told told) {
      String local = told.at().map(Object::toString).orElse(null);
      return new Row(Kind.TOLD, null, told.who(), told.sentence(), told.number(), null, local);
    } else if (item instanceof Item.Answered answer) {
      return new Row(
          Kind.ANSWERED, null, null, answer.words(), answer.number(), answer.granted(), null);
    } else if (item instanceof Item.Up up) {
      return new Row(Kind.UP, up.connection(), null, null, null, up.asked(), null);
    } else if (item instanceof Item.Overheard up) {
      return new Row(Kind.UP, up.connection(), null, OVERHEARD, null, true, null);
    } else if (item instanceof Item.Down down) {
      return new Row(Kind.DOWN, down.connection(), null, down.why(), null, down.missed(), null);
    } else if (item instanceof Item.Kept kept) {
      Optional<String> whyNot = kept.whyNot();
      return said(whyNot.isEmpty() ? Kind.KEPT : Kind.NOT_KEPT, null, whyNot.orElse(null));
    } else if (item instanceof Item.Missing missing) {
      return missing(missing.count());
    } else if (item instanceof Item.InputLost) {
      return said(Kind.OVERRUN, null, null);
    } else if (item instanceof Item.Started started) {
      return said(Kind.STARTED, null, "Tappet " + started.version() + " on " + started.layout());
    } else if (item instanceof Item.Exchanged exchanged) {
      return said(Kind.EXCHANGED, null, exchanged.files());
    } else if (item instanceof Item.Ended) {
      return said(Kind.ENDED, null, null);
    }
    throw new IllegalArgumentException("a frame has a table of its own: " + item);
  }

  /** Of {@link Kind#UP}: how the connection came up. */
  Item up() {
    return OVERHEARD.equals(text) ? new Item.Overheard(about) : new Item.Up(about, yes);
  }

  private static Row of(Output output) {
    if (output instanceof Output.Show show) {
      return said(Kind.ASPECT, show.signal(), show.aspect());
    } else if (output instanceof Output.Dark dark) {
      return said(Kind.DARK, dark.signal(), null);
    } else if (output instanceof Output.Throw order) {
      return said(Kind.SWITCH, order.switchId(), order.position().word());
    } else if (output instanceof Output.Lock lock) {
      return said(Kind.LOCK, lock.switchId(), lock.state().word());
    } else if (output instanceof Output.Light light) {
      return said(Kind.LAMP, light.lamp(), light.lit() ? "lit" : "dark");
    } else if (output instanceof Output.Warn warn) {
      return said(Kind.CROSSING, warn.crossing(), warn.warns() ? "warns" : "rests");
    } else if (output instanceof Output.Bolt bolt) {
      return said(Kind.OPENING, bolt.opening(), bolt.locked() ? "locked" : "unlocked");
    }
    throw new IllegalArgumentException("no such output: " + output);
  }

  static Row missing(long count) {
    return new Row(Kind.MISSING, null, null, null, count, null, null);
  }

  static Row remark(String text) {
    return said(Kind.REMARK, null, text);
  }

  private static Row said(Kind kind, String about, String text) {
    return new Row(kind, about, null, text, null, null, null);
  }
}
