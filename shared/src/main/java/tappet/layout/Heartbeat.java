package tappet.layout;

import java.time.Duration;
import tappet.lcc.EventId;
import tappet.source.Fields;
import tappet.source.Value;

/**
 * What the daemon sends for as long as it watches the railroad. Boards that miss it put their
 * signals to Stop by themselves, and let their grade crossings warn. Common practice, no source.
 *
 * @param event what is sent
 * @param every how often it is sent, 100 ms to 1 min
 * @param lostAfter how long a board goes without it before it acts, at least twice {@code every}
 */
public record Heartbeat(EventId event, Duration every, Duration lostAfter) {

  private static final Duration EVERY = Duration.ofSeconds(2);
  private static final Duration EVERY_MIN = Duration.ofMillis(100);
  private static final Duration EVERY_MAX = Duration.ofMinutes(1);

  /** One may be late, or lost on the way; three are not. */
  private static final int BEATS_LOST = 3;

  private static final int BEATS_LOST_MIN = 2;

  static Heartbeat read(Fields written, Wiring wiring) {
    EventId event =
        wiring
            .event(
                written.required("event", "0A.57.00.00.00.01.00.01"),
                "the daemon watches the railroad")
            .orElse(Wiring.NONE);
    Duration every = every(written.optional("every", "2 s"));
    return new Heartbeat(event, every, lostAfter(written.optional("lost after", "6 s"), every));
  }

  private static Duration every(Value written) {
    Duration every = written.duration().orElse(EVERY);
    if (every.compareTo(EVERY_MIN) < 0 || every.compareTo(EVERY_MAX) > 0) {
      written.note("a heartbeat comes every 100 ms to 1 min", "write for example '2 s'");
    }
    return every;
  }

  private static Duration lostAfter(Value written, Duration every) {
    Duration lostAfter = written.duration().orElse(every.multipliedBy(BEATS_LOST));
    if (lostAfter.compareTo(every.multipliedBy(BEATS_LOST_MIN)) < 0) {
      written.note(
          "one heartbeat that is late would stop the railroad",
          "let boards wait at least twice as long as one takes");
    }
    return lostAfter;
  }
}
