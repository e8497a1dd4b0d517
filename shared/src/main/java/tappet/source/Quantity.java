package tappet.source;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Numbers with their units, as owners write them. */
public final class Quantity {

  /** Nine digits are more than any layout needs and too few to overflow anything. */
  private static final String DIGITS = "(-?\\d{1,9}(?:\\.\\d{1,9})?)";

  private static final Pattern NUMBER = Pattern.compile(DIGITS);
  private static final Pattern WITH_UNIT = Pattern.compile(DIGITS + "\\s*([a-z]{1,3})");

  private static final Map<String, Double> METRES =
      Map.of("m", 1.0, "cm", 0.01, "mm", 0.001, "ft", 0.3048, "in", 0.0254);

  private static final Map<String, Double> NANOSECONDS =
      Map.of("ms", 1e6, "s", 1e9, "min", 60e9, "h", 3600e9);

  private Quantity() {}

  static Optional<Double> number(String text) {
    return Optional.of(NUMBER.matcher(text))
        .filter(Matcher::matches)
        .map(number -> Double.valueOf(number.group(1)));
  }

  /** A length in metres. */
  static Optional<Double> metres(String text) {
    return inUnits(text, METRES);
  }

  /** A time of at least 0 with its unit (ms, s, min, h); empty for any other text. */
  public static Optional<Duration> duration(String text) {
    return inUnits(text, NANOSECONDS)
        .filter(ns -> ns >= 0 && ns < Long.MAX_VALUE)
        .map(ns -> Duration.ofNanos(Math.round(ns)));
  }

  private static Optional<Double> inUnits(String text, Map<String, Double> units) {
    return Optional.of(WITH_UNIT.matcher(text))
        .filter(Matcher::matches)
        .filter(quantity -> units.containsKey(quantity.group(2)))
        .map(quantity -> Double.parseDouble(quantity.group(1)) * units.get(quantity.group(2)));
  }
}
