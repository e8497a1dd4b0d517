package tappet.bridge.node;

import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import tappet.lcc.clock.ClockReading;
import tappet.sentence.ClockTexts;

/**
 * What a clock shows to the minute. It tells each new minute, and in an owner's words each new hour
 * and how the clock runs.
 */
final class ClockFace {

  private static final long MINUTE_NS = 60_000_000_000L;
  private static final int QUARTERS = 4;
  private static final int MINUTES_OF_HOUR = 60;
  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm");

  private static final OptionalLong NONE = OptionalLong.empty();

  private final String clock;
  private final Surroundings surroundings;
  private Optional<ClockReading> shown = Optional.empty();
  private OptionalLong nextNs = NONE;

  ClockFace(String clock, Surroundings surroundings) {
    this.clock = clock;
    this.surroundings = surroundings;
  }

  /** The hands may have moved, or been moved; empty: the time is not known. */
  void show(Optional<ClockReading> reading, long nowNs) {
    Optional<ClockReading> before = shown;
    shown = reading;
    nextNs = reading.filter(ClockFace::moves).map(now -> nextMinuteNs(now, nowNs)).orElse(NONE);
    if (!minute(before).equals(minute(reading))) {
      surroundings.minuteShown(minute(reading));
    }
    if (isNews(before, reading)) {
      surroundings.happened(words());
    }
  }

  /** What the clock was last seen to show; empty: that is not known. */
  Optional<ClockReading> shown() {
    return shown;
  }

  /** When the next minute comes. */
  OptionalLong deadlineNs() {
    return nextNs;
  }

  boolean isDue(long nowNs) {
    return nextNs.isPresent() && nowNs - nextNs.getAsLong() >= 0;
  }

  /** What the clock shows, in an owner's words. */
  String words() {
    return shown
        .map(now -> clock + (moves(now) ? " shows " : " stands at ") + words(now))
        .orElse(clock + " is not known");
  }

  private static String words(ClockReading now) {
    String rate = ClockTexts.words(now.rate());
    String pace = moves(now) ? " and runs at " + rate : "; its rate is " + rate;
    return now.time().format(TIME) + pace;
  }

  private static boolean moves(ClockReading reading) {
    return reading.running() && reading.rate().quarters() != 0;
  }

  private static OptionalInt minute(Optional<ClockReading> reading) {
    return reading
        .map(ClockReading::time)
        .map(LocalDateTime::toLocalTime)
        .map(ClockFace::minuteOfDay)
        .orElse(OptionalInt.empty());
  }

  private static OptionalInt minuteOfDay(LocalTime time) {
    return OptionalInt.of(time.getHour() * MINUTES_OF_HOUR + time.getMinute());
  }

  /** How the clock runs, and every hour; not each minute. */
  private static boolean isNews(Optional<ClockReading> before, Optional<ClockReading> now) {
    if (before.isEmpty() || now.isEmpty()) {
      return before.isPresent() != now.isPresent();
    }
    ClockReading old = before.get();
    ClockReading present = now.get();
    return old.running() != present.running()
        || !old.rate().equals(present.rate())
        || old.time().getHour() != present.time().getHour();
  }

  private static OptionalLong nextMinuteNs(ClockReading now, long nowNs) {
    long within = now.time().toLocalTime().toNanoOfDay() % MINUTE_NS;
    int quarters = now.rate().quarters();
    long fastNs = quarters > 0 ? MINUTE_NS - within : within + 1;
    return OptionalLong.of(nowNs + ceilDiv(fastNs * QUARTERS, Math.abs(quarters)));
  }

  private static long ceilDiv(long dividend, long divisor) {
    return -Math.floorDiv(-dividend, divisor);
  }
}
