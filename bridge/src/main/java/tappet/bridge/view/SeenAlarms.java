package tappet.bridge.view;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Since when each alarm stands, and who has seen it. */
final class SeenAlarms {

  /**
   * An alarm that stands.
   *
   * @param sinceMs since when, in milliseconds since 1970
   * @param seenBy who has acknowledged it; empty if nobody has
   */
  record Seen(long sinceMs, Optional<String> seenBy) {}

  private final Map<String, Seen> standing = new LinkedHashMap<>();

  /** Takes over which alarms stand now. One that comes again is to be acknowledged again. */
  void follow(List<String> now, long nowMs) {
    standing.keySet().retainAll(now);
    now.forEach(alarm -> standing.putIfAbsent(alarm, new Seen(nowMs, Optional.empty())));
  }

  /** False if no such alarm stands. */
  boolean acknowledge(String alarm, String by) {
    return standing.computeIfPresent(
            alarm,
            (words, seen) -> new Seen(seen.sinceMs(), seen.seenBy().or(() -> Optional.of(by))))
        != null;
  }

  Map<String, Seen> all() {
    return standing;
  }
}
