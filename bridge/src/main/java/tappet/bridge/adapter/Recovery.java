package tappet.bridge.adapter;

import io.netty.util.concurrent.ScheduledFuture;
import java.util.HashSet;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;

/**
 * Brings a broken line back, and tells of an outage once: the first failure is told, a further one
 * only when its reason is new, the rest are counted and summed up when the line is back. All
 * methods are called on the hub's event loop.
 */
final class Recovery {

  private static final Logger LOG = LoggerFactory.getLogger(Recovery.class);

  private final Hub hub;
  private final Connection line;
  private final BackOff backOff;
  private final Runnable attempt;

  private final Set<String> toldReasons = new HashSet<>();
  private ScheduledFuture<?> next;
  private boolean isUp;
  private boolean closed;
  private long upSinceNs;
  private int failures;
  private int outageFailures;

  /**
   * @param attempt tries to bring the line up, without blocking, and ends in {@link #up} or {@link
   *     #down}
   */
  Recovery(Hub hub, Connection line, BackOff backOff, Runnable attempt) {
    this.hub = hub;
    this.line = line;
    this.backOff = backOff;
    this.attempt = attempt;
  }

  /** The first try. */
  void start() {
    if (!closed) {
      attempt.run();
    }
  }

  /** The attempt succeeded. */
  void up() {
    if (closed) {
      return;
    }
    isUp = true;
    upSinceNs = System.nanoTime();
    hub.attach(line);
    if (outageFailures > 1) {
      LOG.info("{} is back after {} tries in vain", line.name(), outageFailures);
    }
    outageFailures = 0;
    toldReasons.clear();
  }

  /** The line broke, or the attempt failed. */
  void down(String why) {
    if (closed) {
      return;
    }
    if (isUp) {
      broke(why);
    } else {
      failed(why);
    }
    next = hub.loop().schedule(attempt, backOff.restNs(failures), TimeUnit.NANOSECONDS);
    failures++;
  }

  private void broke(String why) {
    isUp = false;
    // A line that comes up only to break again must not start anew with short rests.
    if (System.nanoTime() - upSinceNs >= backOff.longest().toNanos()) {
      failures = 0;
    }
    toldReasons.add(why);
    hub.detach(line, why);
  }

  private void failed(String why) {
    outageFailures++;
    if (toldReasons.isEmpty()) {
      hub.missing(line, why);
    } else if (!toldReasons.contains(why)) {
      LOG.warn("{} {}", line.name(), why);
    }
    toldReasons.add(why);
  }

  /** No further tries. */
  void close() {
    closed = true;
    if (next != null) {
      next.cancel(false);
    }
    hub.dismiss(line, "was closed");
  }

  /** How many tries failed since the line was up last, or since the start. */
  int triesInVain() {
    return outageFailures;
  }

  boolean isClosed() {
    return closed;
  }
}
