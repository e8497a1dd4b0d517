package tappet.simulator;

import java.util.Optional;
import java.util.OptionalLong;
import tappet.layout.Position;

/**
 * A switch with its motor and its detector. How far the points have travelled is measured in time:
 * 0 is normal, the whole throw is reverse, anything between is neither.
 */
final class SwitchMachine {

  private final long usualThrowNs;
  private long throwNs;
  private Position called = Position.NORMAL;
  private Position lay = Position.NORMAL;
  private long travelNs;
  private long measuredNs;
  private boolean failed;

  /** Without power it stays where it is until it is called again. */
  private boolean stopped;

  /**
   * A switch that lies normal.
   *
   * @param throwNs how long it moves from end to end, in nanoseconds, above 0
   */
  SwitchMachine(long throwNs) {
    if (throwNs <= 0) {
      throw new IllegalArgumentException("throw " + throwNs + " ns, expected above 0");
    }
    this.usualThrowNs = throwNs;
    this.throwNs = throwNs;
  }

  /** Calls for a position; a switch in motion turns round where it is. */
  void call(Position position, long nowNs) {
    measure(nowNs);
    called = position;
    stopped = false;
  }

  /** The motor loses its power, wherever the points are. */
  void stop(long nowNs) {
    measure(nowNs);
    stopped = true;
  }

  /** Moves the points up to now; true if they have just come to lie. */
  boolean advance(long nowNs) {
    boolean wasMoving = isMoving();
    measure(nowNs);
    return wasMoving && !isMoving();
  }

  /** When the points come to lie. */
  OptionalLong deadlineNs() {
    return isMoving()
        ? OptionalLong.of(measuredNs + Math.abs(end(called) - travelNs))
        : OptionalLong.empty();
  }

  /** The motor stops, wherever the points are, and does not move again until mended. */
  void fail(long nowNs) {
    measure(nowNs);
    failed = true;
  }

  /** The motor goes on to where it was last called, as fast as it was made for. */
  void mend(long nowNs) {
    take(usualThrowNs, nowNs);
    failed = false;
  }

  /**
   * From now on the motor takes this long from end to end.
   *
   * @param newThrowNs in nanoseconds, above 0
   */
  void take(long newThrowNs, long nowNs) {
    measure(nowNs);
    double travelled = (double) travelNs / throwNs;
    throwNs = newThrowNs;
    travelNs = Math.round(travelled * newThrowNs);
  }

  /** Throws the points by hand, in no time. */
  void throwByHand(Position position) {
    called = position;
    travelNs = end(position);
    lay = position;
  }

  /** A train that trails through presses the points over; the spring then closes them normal. */
  void pressOpen(long nowNs) {
    throwByHand(Position.REVERSE);
    measuredNs = nowNs;
  }

  /** The position that was last called for. */
  Position called() {
    return called;
  }

  /** The position the points lie in, as detected; empty in motion or stuck between. */
  Optional<Position> lies() {
    return isMoving() || isBetween() ? Optional.empty() : Optional.of(lay);
  }

  /** The position they lie in or have just left: where the wheels would go. */
  Position lay() {
    return lay;
  }

  private void measure(long nowNs) {
    if (isMoving()) {
      long stepNs = Math.min(nowNs - measuredNs, Math.abs(end(called) - travelNs));
      travelNs += end(called) > travelNs ? stepNs : -stepNs;
    }
    if (!isBetween()) {
      lay = travelNs == 0 ? Position.NORMAL : Position.REVERSE;
    }
    measuredNs = nowNs;
  }

  private boolean isMoving() {
    return !failed && !stopped && travelNs != end(called);
  }

  private boolean isBetween() {
    return travelNs > 0 && travelNs < throwNs;
  }

  private long end(Position position) {
    return position == Position.NORMAL ? 0 : throwNs;
  }
}
