package tappet.sentence;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;

/**
 * Times and rates of a layout's clock as people write them: {@code 06:30}; {@code 4} or {@code 4:1}
 * for four minutes of the layout in a real one, {@code -1} for a clock that runs backwards.
 */
public final class ClockTexts {

  private static final Pattern TIME = Pattern.compile("([01]?\\d|2[0-3]):([0-5]\\d)");
  private static final Pattern RATE = Pattern.compile("(-?\\d{1,9}(?:\\.\\d{1,9})?)(?::1)?");
  private static final BigDecimal QUARTERS = BigDecimal.valueOf(4);

  private ClockTexts() {}

  /** Reads a time of day from 00:00 to 23:59. */
  public static Optional<Time> time(String text) {
    Matcher matcher = TIME.matcher(text);
    return matcher.matches()
        ? Optional.of(
            new Time(Integer.parseInt(matcher.group(1)), Integer.parseInt(matcher.group(2))))
        : Optional.empty();
  }

  /**
   * Reads a rate: quarters from −512 to 511.75, without zero (S-9.7.4.5 §4.4).
   *
   * @param note takes what is wrong, and what was probably meant
   */
  public static Optional<Rate> rate(String text, BiConsumer<String, String> note) {
    Matcher matcher = RATE.matcher(text);
    if (!matcher.matches()) {
      note.accept("'%s' is no rate of a clock".formatted(text), "write for example 4 or 0.25");
      return Optional.empty();
    }
    BigDecimal quarters = new BigDecimal(matcher.group(1)).multiply(QUARTERS);
    if (quarters.signum() == 0) {
      note.accept("a clock with rate 0 stands still", "stop the clock instead, and start it later");
      return Optional.empty();
    }
    Rate nearest = nearest(quarters);
    boolean exact = quarters.compareTo(BigDecimal.valueOf(nearest.quarters())) == 0;
    if (!exact) {
      note.accept(
          "a clock cannot run at rate %s".formatted(text),
          "the nearest it can is %s".formatted(number(nearest)));
    }
    return exact ? Optional.of(nearest) : Optional.empty();
  }

  private static Rate nearest(BigDecimal quarters) {
    long whole = Math.round(quarters.doubleValue());
    int allowed = (int) Math.max(Rate.QUARTERS_MIN, Math.min(Rate.QUARTERS_MAX, whole));
    return new Rate(allowed == 0 ? quarters.signum() : allowed);
  }

  /** A setting as it stands behind {@code set clock}. */
  static String written(Setting setting) {
    return setting instanceof Rate rate ? "rate to " + number(rate) : time((Time) setting);
  }

  private static String time(Time time) {
    return "to %02d:%02d".formatted(time.hour(), time.minute());
  }

  /** A rate as people read it: {@code 2:1}, {@code 0.25:1}. */
  public static String words(Rate rate) {
    return number(rate) + ":1";
  }

  private static String number(Rate rate) {
    return BigDecimal.valueOf(rate.quarters())
        .divide(QUARTERS)
        .stripTrailingZeros()
        .toPlainString();
  }
}
