package tappet.bridge.health;

import java.time.Duration;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;

/**
 * Keeps the heap as small as what is in it. Java's collector for small machines clears what is
 * young, and lets what has grown old lie until the heap has reached its limit: memory that the rest
 * of the machine could use to keep its files in. So whenever the heap has grown, all of it is
 * cleared; how far it shrinks then, the options of the JVM say.
 *
 * <p>Everything waits meanwhile, some 40 ms on a small machine: no longer than when the limit is
 * reached, and so seldom that no train notices.
 */
public final class Housekeeping {

  static final Duration EVERY = Duration.ofMinutes(1);

  /** By then the start is over, and what it has left lies idle. */
  static final Duration FIRST = Duration.ofSeconds(20);

  /** Less than that is not worth the pause. */
  static final long GROWTH_BYTES = 1L << 20;

  private final LongSupplier heapBytes;
  private final Runnable clear;

  /** How large the heap was after it was cleared; at first what a start has left is cleared. */
  private long settledBytes;

  /**
   * @param heapBytes how much memory the heap has taken
   * @param clear has all of it cleared
   */
  Housekeeping(LongSupplier heapBytes, Runnable clear) {
    this.heapBytes = heapBytes;
    this.clear = clear;
  }

  /**
   * Keeps this program's heap small from now on.
   *
   * @param where the looks are taken; ends with it
   */
  public static void begin(ScheduledExecutorService where) {
    Housekeeping keeping = new Housekeeping(Runtime.getRuntime()::totalMemory, System::gc);
    var unused =
        where.scheduleWithFixedDelay(
            keeping::look, FIRST.toSeconds(), EVERY.toSeconds(), TimeUnit.SECONDS);
  }

  void look() {
    if (heapBytes.getAsLong() >= settledBytes + GROWTH_BYTES) {
      clear.run();
      settledBytes = heapBytes.getAsLong();
    }
  }
}
