package tappet.lcc.clock;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.YearMonth;
import java.util.List;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

/**
 * The movement of a clock: a date and time that was right at some moment, and the pace from there.
 * Immutable; every change gives hands that are right at the moment of the change.
 *
 * @param origin what the clock showed
 * @param originNs when it did
 */
record Hands(LocalDateTime origin, long originNs, Rate rate, boolean running) {

  static final long MINUTE_NS = 60_000_000_000L;
  private static final int QUARTERS = 4;

  /** More than two clocks that keep together are ever apart, and far less than half a day. */
  private static final Duration ACROSS_MIDNIGHT = Duration.ofMinutes(10);

  private static final int YEARS = 4096;

  static Hands of(ClockReading reading, long nowNs) {
    return new Hands(inRange(reading.time()), nowNs, reading.rate(), reading.running());
  }

  ClockReading reading(long nowNs) {
    return new ClockReading(time(nowNs), rate, running);
  }

  LocalDateTime time(long nowNs) {
    if (!running) {
      return origin;
    }
    long fastNs = Math.floorDiv((nowNs - originNs) * rate.quarters(), QUARTERS);
    return inRange(origin.plusNanos(fastNs));
  }

  /** The same, seen from now: what has gone by since need not be multiplied again. */
  Hands at(long nowNs) {
    return new Hands(time(nowNs), nowNs, rate, running);
  }

  Hands withTime(Time time, long nowNs) {
    LocalTime start = LocalTime.of(time.hour(), time.minute());
    return new Hands(time(nowNs).with(start), nowNs, rate, running);
  }

  /**
   * The same for a report of a clock that is followed: if it is just across midnight from here, it
   * is of the day over there, and not of a whole day away.
   */
  Hands withReportedTime(Time time, long nowNs) {
    LocalDateTime now = time(nowNs);
    LocalDateTime today = now.with(LocalTime.of(time.hour(), time.minute()));
    for (LocalDateTime other : List.of(today.minusDays(1), today.plusDays(1))) {
      if (Duration.between(other, now).abs().compareTo(ACROSS_MIDNIGHT) < 0) {
        return withDateTime(other, nowNs);
      }
    }
    return withDateTime(today, nowNs);
  }

  /** A day that the month does not have becomes its last one. */
  Hands withDate(Date date, long nowNs) {
    LocalDateTime now = time(nowNs);
    return withDay(now, now.getYear(), date.month(), date.day(), nowNs);
  }

  Hands withYear(Year year, long nowNs) {
    LocalDateTime now = time(nowNs);
    return withDay(now, year.year(), now.getMonthValue(), now.getDayOfMonth(), nowNs);
  }

  Hands withRate(Rate changed, long nowNs) {
    return new Hands(time(nowNs), nowNs, changed, running);
  }

  Hands withRunning(boolean changed, long nowNs) {
    return new Hands(time(nowNs), nowNs, rate, changed);
  }

  Hands withDateTime(LocalDateTime time, long nowNs) {
    return new Hands(inRange(time), nowNs, rate, running);
  }

  boolean forward() {
    return rate.quarters() > 0;
  }

  /** Whether the hands move at all. */
  boolean moving() {
    return running && rate.quarters() != 0;
  }

  /** The whole minute that comes next, in the direction the clock runs; not the one of now. */
  LocalDateTime nextMinute(long nowNs) {
    LocalDateTime now = time(nowNs);
    LocalDateTime floor = now.withSecond(0).withNano(0);
    if (forward()) {
      return inRange(floor.plusMinutes(1));
    }
    return floor.equals(now) ? inRange(floor.minusMinutes(1)) : floor;
  }

  /** How long after {@code nowNs} that minute comes; only while the hands move. */
  long untilNextMinuteNs(long nowNs) {
    LocalDateTime now = time(nowNs);
    long within = now.getSecond() * 1_000_000_000L + now.getNano();
    long back = within == 0 ? MINUTE_NS : within;
    long fastNs = forward() ? MINUTE_NS - within : back;
    return ceilDiv(fastNs * QUARTERS, Math.abs(rate.quarters()));
  }

  private static long ceilDiv(long dividend, long divisor) {
    return -Math.floorDiv(-dividend, divisor);
  }

  private Hands withDay(LocalDateTime now, int year, int month, int day, long nowNs) {
    int exists = Math.min(day, YearMonth.of(year, month).lengthOfMonth());
    LocalDate date = LocalDate.of(year, month, exists);
    return new Hands(now.toLocalTime().atDate(date), nowNs, rate, running);
  }

  /** Years are twelve bits; after the last comes the first (S-9.7.4.5 §4.3). */
  private static LocalDateTime inRange(LocalDateTime time) {
    int year = Math.floorMod(time.getYear(), YEARS);
    return year == time.getYear() ? time : time.withYear(year);
  }
}
