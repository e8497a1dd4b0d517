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

  /** So long after a start an alarm that stood before may come again and be the same. */
  static final long SAME_MS = 60_000;

  private final Map<String, Seen> standing = new LinkedHashMap<>();
  private final Map<String, Seen> ofBefore = new LinkedHashMap<>();
  private long restoredMs;

  /** Takes over which alarms stand now. One that comes again is to be acknowledged again. */
  void follow(List<String> now, long nowMs) {
    standing.keySet().retainAll(now);
    if (nowMs - restoredMs > SAME_MS) {
      ofBefore.clear();
    }
    for (String alarm : now) {
      Seen before = ofBefore.remove(alarm);
      standing.putIfAbsent(alarm, before == null ? new Seen(nowMs, Optional.empty()) : before);
    }
  }

  /** Somebody acknowledged an alarm before the start. */
  void restore(String alarm, Seen seen, long nowMs) {
    restoredMs = nowMs;
    ofBefore.put(alarm, seen);
  }

  /** Those that somebody has acknowledged, with those that may still come again after a start. */
  Map<String, Seen> acknowledged() {
    Map<String, Seen> seen = new LinkedHashMap<>(ofBefore);
    seen.putAll(standing);
    seen.values().removeIf(alarm -> alarm.seenBy().isEmpty());
    return seen;
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
