package tappet.interlocking;

import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * When a person asked for something, for people to read: nothing is decided by it.
 *
 * @param real date and time where the railroad stands; empty where they are not known
 * @param fast minutes since midnight by the fast clock, 0 to 1439; empty where not known
 */
public record Moment(Optional<LocalDateTime> real, OptionalInt fast) {

  /** A moment of which nothing is known. */
  public static final Moment UNKNOWN = new Moment(Optional.empty(), OptionalInt.empty());

  private static final DateTimeFormatter REAL = DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm");
  private static final int MINUTES_PER_HOUR = 60;

  /** {@code since 2026-11-25 14:03, 06:30 by the fast clock}; empty where nothing is known. */
  public String since() {
    String realTime = real.map(REAL::format).orElse("");
    String joint = real.isPresent() && fast.isPresent() ? ", " : "";
    String both = realTime + joint + fastTime();
    return both.isEmpty() ? "" : "since " + both;
  }

  private String fastTime() {
    if (fast.isEmpty()) {
      return "";
    }
    int minute = fast.getAsInt();
    return "%02d:%02d by the fast clock"
        .formatted(minute / MINUTES_PER_HOUR, minute % MINUTES_PER_HOUR);
  }
}
