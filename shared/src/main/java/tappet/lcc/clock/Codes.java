package tappet.lcc.clock;

import java.util.Optional;
import java.util.OptionalInt;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

/** The numbers of clock events (S-9.7.4.5 §4). */
final class Codes {

  static final int DATE = 0x2000;
  static final int YEAR = 0x3000;
  static final int RATE = 0x4000;
  static final int SET = 0x8000;

  private static final int BLOCK = 0xF000;
  private static final int TIME_END = 0x1800;

  private Codes() {}

  /** The place among {@link Order}; empty if it is none. */
  static OptionalInt order(int code) {
    int place = code - Order.QUERY.code();
    return place >= 0 && place < Order.values().length
        ? OptionalInt.of(place)
        : OptionalInt.empty();
  }

  static Optional<Setting> setting(int code) {
    if (code < TIME_END) {
      return time(code >>> 8, code & 0xFF);
    }
    return switch (code & BLOCK) {
      case DATE -> date((code >>> 8) & 0xF, code & 0xFF);
      case YEAR -> Optional.of(new Year(code & 0xFFF));
      case RATE -> Optional.of(new Rate(signed(code & 0xFFF)));
      default -> Optional.empty();
    };
  }

  private static Optional<Setting> time(int hour, int minute) {
    return minute > 59 ? Optional.empty() : Optional.of(new Time(hour, minute));
  }

  private static Optional<Setting> date(int month, int day) {
    boolean exists = month >= 1 && month <= 12 && day >= 1 && day <= 31;
    return exists ? Optional.of(new Date(month, day)) : Optional.empty();
  }

  /** Two's complement of 12 bits (S-9.7.4.5 §4.4). */
  private static int signed(int twelveBits) {
    return twelveBits << 20 >> 20;
  }

  static void require(String name, int value, int min, int max) {
    if (value < min || value > max) {
      throw new IllegalArgumentException(
          "%s %d, expected %d to %d".formatted(name, value, min, max));
    }
  }
}
