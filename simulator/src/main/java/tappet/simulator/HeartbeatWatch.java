package tappet.simulator;

import java.util.OptionalLong;
import java.util.Set;
import java.util.function.LongConsumer;
import tappet.lcc.EventId;

/**
 * What a board does by itself while it misses the daemon's heartbeat: it puts its signals to Stop
 * and holds them there. It misses it until it has first heard it.
 */
final class HeartbeatWatch {

  private final long patienceNs;
  private final Set<EventId> proceeding;
  private final LongConsumer fall;
  private boolean missed = true;
  private long heardNs;

  /**
   * @param patienceNs how long it goes without a heartbeat
   * @param proceeding the events that it does not obey while it misses the heartbeat
   * @param fall puts its signals to Stop, at a time in nanoseconds
   */
  HeartbeatWatch(long patienceNs, Set<EventId> proceeding, LongConsumer fall) {
    this.patienceNs = patienceNs;
    this.proceeding = proceeding;
    this.fall = fall;
  }

  void hear(long nowNs) {
    heardNs = nowNs;
    missed = false;
  }

  boolean isHeard() {
    return !missed;
  }

  boolean withholds(EventId event) {
    return missed && proceeding.contains(event);
  }

  OptionalLong deadlineNs() {
    return missed ? OptionalLong.empty() : OptionalLong.of(heardNs + patienceNs);
  }

  void advance(long nowNs) {
    if (!missed && nowNs >= heardNs + patienceNs) {
      missed = true;
      fall.accept(nowNs);
    }
  }
}
