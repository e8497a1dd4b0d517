package tappet.bridge.view;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import java.util.function.BiFunction;
import java.util.function.LongSupplier;
import tappet.bridge.box.SignalBox;
import tappet.interlocking.Picture;
import tappet.interlocking.Protection;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.lcc.clock.ClockReading;
import tappet.sentence.Command.Heading;
import tappet.sentence.Protected;

/** Puts together what people see, from the box and from what they have written on the chart. */
public final class SightTaker {

  /** The wall clock may wander so far before moments are told by it anew. */
  private static final long DRIFT_MS = 500;

  private static final double QUARTERS = 4;

  private final ChartBook book;
  private final LongSupplier wallClockMs;
  private Facts rules;
  private long offsetMs = Long.MIN_VALUE;

  /**
   * @param rules how the rules stand, which does not change while they run
   * @param wallClockMs the time of day, in milliseconds since 1970
   */
  public SightTaker(ChartBook book, Facts rules, LongSupplier wallClockMs) {
    this.book = book;
    this.rules = rules;
    this.wallClockMs = wallClockMs;
  }

  /**
   * How the rules stand, in a word and in words.
   *
   * @param word proven, unproven or disproven
   */
  public static Facts ofRules(String word, String words) {
    return Facts.none().with("rules", word).with("words", words);
  }

  /** Other rules run from now on, which stand like this. */
  public void goOn(Facts otherRules) {
    rules = otherRules;
  }

  /** What is seen now. */
  public Sight take(SignalBox box, long nowNs) {
    keepPace(nowNs);
    Picture picture = box.interlocking().picture();
    Map<String, Map<String, Facts>> kinds = new LinkedHashMap<>();
    kinds.put("section", each(picture.sections(), this::section));
    kinds.put("switch", each(picture.switches(), (id, toe) -> toe(toe)));
    kinds.put("signal", each(picture.signals(), (id, signal) -> signal(signal)));
    kinds.put("lock", each(picture.locks(), (id, lock) -> lock(lock)));
    kinds.put("traffic", each(picture.lines(), (id, way) -> way(way)));
    kinds.put("opening", each(picture.openings(), (id, opening) -> opening(opening)));
    kinds.put("crossing", each(picture.crossings(), (id, warns) -> state(warns, "warns", "rests")));
    kinds.put("district", each(picture.districts(), (id, tripped) -> district(tripped)));
    kinds.put("lamp", each(picture.lamps(), (id, lit) -> state(lit, "lit", "dark")));
    kinds.put("spot", spots(box.interlocking().layout()));
    kinds.put("board", boards(box));
    kinds.put("connection", each(box.connections(), (id, up) -> state(up, "up", "down")));
    kinds.put("protection", protections(picture.protections()));
    kinds.put("train", trains());
    kinds.put("alarm", alarms(box.alarms()));
    kinds.put("ask", asks());
    kinds.put("clock", box.clockReading().map(SightTaker::clock).orElse(Map.of()));
    kinds.put("daemon", Map.of("daemon", rules));
    return new Sight(kinds);
  }

  /** Moments are told by the wall clock, without trembling with it. */
  private void keepPace(long nowNs) {
    long offset = wallClockMs.getAsLong() - TimeUnit.NANOSECONDS.toMillis(nowNs);
    if (offsetMs == Long.MIN_VALUE || Math.abs(offset - offsetMs) > DRIFT_MS) {
      offsetMs = offset;
    }
  }

  private OptionalLong moment(OptionalLong atNs) {
    return atNs.isPresent()
        ? OptionalLong.of(TimeUnit.NANOSECONDS.toMillis(atNs.getAsLong()) + offsetMs)
        : atNs;
  }

  private static <T> Map<String, Facts> each(
      Map<String, T> things, BiFunction<String, T, Facts> facts) {
    Map<String, Facts> all = new LinkedHashMap<>();
    things.forEach((id, thing) -> all.put(id, facts.apply(id, thing)));
    return all;
  }

  private Facts section(String id, Picture.OfSection section) {
    return Facts.is(lower(section.occupancy()))
        .with("route", section.route())
        .with("train", book.trainOn(id));
  }

  private static Facts toe(Picture.OfSwitch toe) {
    return Facts.is(toe.lies().map(Position::word).orElse("unknown"))
        .with("called", toe.called().map(Position::word))
        .where("moving", toe.moves())
        .where("locked", toe.locked())
        .where("trouble", toe.trouble());
  }

  private Facts signal(Picture.OfSignal signal) {
    return Facts.none()
        .with("shows", signal.shows())
        .where("dark", signal.dark())
        .with("route", signal.route())
        .where("cancelling", signal.cancelling())
        .with("until", moment(signal.untilNs()))
        .with("fleeted", signal.fleeted())
        .with("stacked", signal.stacked());
  }

  private Facts lock(Picture.OfLock lock) {
    return Facts.is(lower(lock.holding()))
        .with("holder", lock.holder())
        .with("until", moment(lock.untilNs()));
  }

  private static Facts way(Optional<Heading> way) {
    return Facts.is(way.map(Heading::word).orElse("none"));
  }

  private static Facts opening(Picture.OfOpening opening) {
    Facts leaf = Facts.is(opening.closed().map(so -> so ? "closed" : "open").orElse("unknown"));
    return opening.hasBolt()
        ? leaf.with(
            "bolt", opening.locked().map(so -> so ? "locked" : "unlocked").orElse("unknown"))
        : leaf;
  }

  private static Facts district(Optional<Boolean> tripped) {
    return Facts.is(tripped.map(so -> so ? "tripped" : "restored").orElse("unknown"));
  }

  private static Facts state(boolean so, String whenTrue, String whenFalse) {
    return Facts.is(so ? whenTrue : whenFalse);
  }

  private Map<String, Facts> spots(Layout layout) {
    return each(
        layout.lineside().spots(), (id, spot) -> Facts.none().with("passed", book.passedMs(id)));
  }

  private static Map<String, Facts> boards(SignalBox box) {
    var lost = box.lostBoards();
    return each(
        box.interlocking().layout().boards(),
        (id, board) -> state(lost.contains(id), "silent", "answers"));
  }

  private static Map<String, Facts> protections(List<Protection> held) {
    Map<String, Facts> all = new LinkedHashMap<>();
    for (Protection one : held) {
      all.put(
          one.words(),
          Facts.none()
              .with("by", by(one.by()))
              .with("on", one.devices())
              .with("holder", one.holder())
              .with("since", one.since().since())
              .with("reason", one.reason()));
    }
    return all;
  }

  private static String by(Protected by) {
    return switch (by) {
      case PERMIT -> "permit";
      case FLAG -> "flag";
      case BLOCKED_SECTION, BLOCKED_SIGNAL, BLOCKED_SWITCH -> by.device().word();
    };
  }

  private Map<String, Facts> trains() {
    Map<String, Facts> all = new LinkedHashMap<>();
    for (TrainNames.Named train : book.trains()) {
      all.put(train.train(), Facts.none().with("on", train.on()).where("lost", train.lost()));
    }
    return all;
  }

  private Map<String, Facts> alarms(List<String> standing) {
    return each(
        book.alarms(standing),
        (words, seen) ->
            Facts.none().with("since", seen.sinceMs()).with("acknowledged", seen.seenBy()));
  }

  private Map<String, Facts> asks() {
    return each(
        book.asks(),
        (number, ask) ->
            Facts.none()
                .with("who", ask.holder())
                .with("sentence", ask.sentence())
                .with("since", ask.atMs()));
  }

  private static Map<String, Facts> clock(ClockReading reading) {
    String shows = "%02d:%02d".formatted(reading.time().getHour(), reading.time().getMinute());
    double rate = reading.rate().quarters() / QUARTERS;
    Facts face = Facts.none().with("shows", shows).with("rate", rate);
    return Map.of("clock", face.where("runs", reading.running()));
  }

  private static String lower(Enum<?> word) {
    return word.name().toLowerCase(Locale.ROOT);
  }
}
