package tappet.bridge.health;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Traffic;

/** How much goes over each connection, measured from look to look. */
final class BusLoad {

  /** What an LCC segment carries (S-9.7.1.1 §4). */
  static final double BITS_A_SECOND = 125_000;

  /**
   * A frame with 29-bit header and eight bytes of data, with the pause behind it and without stuff
   * bits (ISO 11898-1 §10). Most LCC frames are such; a shorter one counts as much.
   */
  static final int BITS_A_FRAME = 131;

  private final List<Connection> connections;
  private final Map<String, Double> framesASecond = new HashMap<>();
  private final Map<String, Long> framesBefore = new HashMap<>();
  private long lookedNs;

  BusLoad(List<Connection> connections, long nowNs) {
    this.connections = connections;
    this.lookedNs = nowNs;
    connections.forEach(connection -> framesBefore.put(connection.name(), frames(connection)));
  }

  private static long frames(Connection connection) {
    Traffic traffic = connection.traffic();
    return traffic.framesIn() + traffic.framesOut();
  }

  /** Measures the time since the last look; looks that follow at once change nothing. */
  synchronized void look(long nowNs) {
    long passedNs = nowNs - lookedNs;
    if (passedNs < TimeUnit.MILLISECONDS.toNanos(500)) {
      return;
    }
    lookedNs = nowNs;
    for (Connection connection : connections) {
      long now = frames(connection);
      long before = framesBefore.put(connection.name(), now);
      framesASecond.put(
          connection.name(), (now - before) * (double) TimeUnit.SECONDS.toNanos(1) / passedNs);
    }
  }

  /** Frames a second, both ways together. */
  synchronized double framesASecond(Connection connection) {
    return framesASecond.getOrDefault(connection.name(), 0.0);
  }

  /** What share of an LCC segment that is; above 1 where a line is faster than one. */
  double share(Connection connection) {
    return framesASecond(connection) * BITS_A_FRAME / BITS_A_SECOND;
  }
}
