package tappet.lcc.clock;

import java.util.Optional;
import java.util.OptionalInt;

/** What the low 16 bits of a clock's event say (S-9.7.4.5 §4). An instance can be sent. */
public sealed interface ClockEvent {

  /** The low 16 bits of the event id. */
  int code();

  /** One of the values of a clock: reported by its generator, or set by anybody. */
  sealed interface Setting {

    /** The low 16 bits of the event that reports it. */
    int code();
  }

  /**
   * A time of day.
   *
   * @param hour 0 to 23
   * @param minute 0 to 59
   */
  record Time(int hour, int minute) implements Setting {

    public Time {
      Codes.require("hour", hour, 0, 23);
      Codes.require("minute", minute, 0, 59);
    }

    @Override
    public int code() {
      return (hour << 8) | minute;
    }
  }

  /**
   * A day of the year.
   *
   * @param month 1 to 12
   * @param day 1 to 31
   */
  record Date(int month, int day) implements Setting {

    public Date {
      Codes.require("month", month, 1, 12);
      Codes.require("day", day, 1, 31);
    }

    @Override
    public int code() {
      return Codes.DATE + (month << 8) + day;
    }
  }

  /**
   * A year.
   *
   * @param year 0 to 4095
   */
  record Year(int year) implements Setting {

    public Year {
      Codes.require("year", year, 0, 0xFFF);
    }

    @Override
    public int code() {
      return Codes.YEAR + year;
    }
  }

  /**
   * How fast the clock runs.
   *
   * @param quarters fast time for real time, in quarters: 4 is as fast as real time, 16 four times
   *     as fast, a negative number runs backwards; −2048 to 2047
   */
  record Rate(int quarters) implements Setting {

    public static final int QUARTERS_MIN = -2048;
    public static final int QUARTERS_MAX = 2047;

    public Rate {
      Codes.require("quarters", quarters, QUARTERS_MIN, QUARTERS_MAX);
    }

    @Override
    public int code() {
      return Codes.RATE + (quarters & 0xFFF);
    }
  }

  /** The clock is at this, says its generator. */
  record Report(Setting setting) implements ClockEvent {

    @Override
    public int code() {
      return setting.code();
    }
  }

  /** The clock shall be at this, says anybody. */
  record Set(Setting setting) implements ClockEvent {

    @Override
    public int code() {
      return Codes.SET + setting.code();
    }
  }

  /** What needs no value. */
  enum Order implements ClockEvent {
    /** Asks the generator for all its values (S-9.7.4.5 §4.9). */
    QUERY(0xF000),
    /** The clock shall stand, or stands (§4.10). */
    STOP(0xF001),
    /** The clock shall run, or runs (§4.10). */
    START(0xF002),
    /** The clock is about to pass midnight (§4.11). */
    DATE_ROLLOVER(0xF003);

    private final int code;

    Order(int code) {
      this.code = code;
    }

    @Override
    public int code() {
      return code;
    }
  }

  /** Reads the low 16 bits; empty for what is reserved and to be ignored (S-9.7.4.5 §4.12). */
  static Optional<ClockEvent> decode(int code) {
    OptionalInt order = Codes.order(code);
    if (order.isPresent()) {
      return Optional.of(Order.values()[order.getAsInt()]);
    }
    Optional<Setting> setting = Codes.setting(code & ~Codes.SET);
    return (code & Codes.SET) == 0 ? setting.map(Report::new) : setting.map(Set::new);
  }
}
