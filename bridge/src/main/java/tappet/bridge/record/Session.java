package tappet.bridge.record;

import java.util.List;
import java.util.Optional;

/**
 * What one box lived through, from its start to its end as far as both are recorded.
 *
 * @param start what it knew when it began; empty where the recording begins in the middle, or was
 *     not made by a box
 * @param entries what happened then, in order; times never run back
 * @param firstLine the line of the file in which it begins
 */
public record Session(Optional<Item.Started> start, List<Entry> entries, int firstLine) {

  public Session {
    entries = List.copyOf(entries);
  }

  /** When it begins, in microseconds since 1970-01-01 00:00 UTC. */
  public long beganUs() {
    return entries.isEmpty() ? 0 : entries.get(0).timeUs();
  }

  /** When the last thing in it happened. */
  public long endedUs() {
    return entries.isEmpty() ? 0 : entries.get(entries.size() - 1).timeUs();
  }
}
