package tappet.bridge.box;

import java.util.concurrent.TimeUnit;

/**
 * How fast time goes by on the railroad: as anywhere, or, where all of it is simulated, so many
 * times faster. Its moments are in nanoseconds from an arbitrary origin, and never go back.
 */
public final class Tempo {

  /** The fastest that is allowed. */
  public static final int SPEED_MAX = 60;

  /** As anywhere. */
  public static final Tempo REAL = new Tempo(1);

  private static final long NS_PER_US = TimeUnit.MICROSECONDS.toNanos(1);

  private final int speed;
  private final long beganNs = System.nanoTime();

  private Tempo(int speed) {
    this.speed = speed;
  }

  /**
   * Faster from now on.
   *
   * @param speed 1 to {@value #SPEED_MAX} times
   */
  public static Tempo times(int speed) {
    if (speed < 1 || speed > SPEED_MAX) {
      throw new IllegalArgumentException("speed " + speed + ", expected 1 to " + SPEED_MAX);
    }
    return speed == 1 ? REAL : new Tempo(speed);
  }

  /** Now, in whole microseconds: a recording tells them, and another box can live by the same. */
  public long nowNs() {
    long realNs = System.nanoTime();
    return (beganNs + (realNs - beganNs) * speed) / NS_PER_US * NS_PER_US;
  }

  /** How long that moment is still to be waited for; 0 once it is past. */
  public long waitNs(long momentNs) {
    return realNs(Math.max(0, momentNs - nowNs()));
  }

  /** How long it really takes until so much time has gone by on the railroad. */
  public long realNs(long railroadNs) {
    return railroadNs / speed;
  }
}
