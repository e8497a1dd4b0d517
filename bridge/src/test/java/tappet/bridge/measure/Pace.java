package tappet.bridge.measure;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;

/**
 * Evenly spaced moments that do not wait for anybody: when something is late, the next moments stay
 * where they were (open loop), so that a stall is seen by everything that it held up.
 */
final class Pace {

  /** A sleeping thread wakes up about this late; the rest is waited for awake. */
  private static final long WAKING_NS = 80_000;

  private final long startNs;
  private final long gapNs;

  /**
   * A pace that starts now.
   *
   * @param perSecond above 0
   */
  Pace(int perSecond) {
    startNs = System.nanoTime();
    gapNs = TimeUnit.SECONDS.toNanos(1) / perSecond;
  }

  /** Waits for the moment of this number, and tells when it was meant to be. */
  long await(long number) {
    long momentNs = startNs + number * gapNs;
    for (long left = momentNs - System.nanoTime(); left > 0; left = momentNs - System.nanoTime()) {
      if (left > WAKING_NS) {
        LockSupport.parkNanos(left - WAKING_NS);
      } else {
        Thread.onSpinWait();
      }
    }
    return momentNs;
  }
}
