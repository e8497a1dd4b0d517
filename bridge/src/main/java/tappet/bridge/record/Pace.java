package tappet.bridge.record;

import java.util.concurrent.TimeUnit;

/** How fast a recording is played. */
@FunctionalInterface
public interface Pace {

  /**
   * Waits until a moment of the recording.
   *
   * @param sinceFirstUs microseconds from the recording's first frame on; never less than before
   */
  void await(long sinceFirstUs) throws InterruptedException;

  /** One frame after the other, as fast as the hub takes them. */
  static Pace atOnce() {
    return sinceFirstUs -> {};
  }

  /**
   * As it was, or faster or slower.
   *
   * @param speed above zero; 1 as it was, 2 twice as fast
   */
  static Pace realTime(double speed) {
    if (!(speed > 0)) {
      throw new IllegalArgumentException("speed " + speed + ", expected one above zero");
    }
    long startNs = System.nanoTime();
    return sinceFirstUs -> {
      long dueNs = startNs + (long) (sinceFirstUs * 1_000 / speed);
      TimeUnit.NANOSECONDS.sleep(dueNs - System.nanoTime());
    };
  }
}
