package tappet.simulator;

import java.util.OptionalLong;
import tappet.layout.LockState;

/** The electric lock of a hand-thrown switch: a bolt that a magnet draws. */
final class LockDevice {

  /** How long the bolt moves: common practice, no source. */
  static final long BOLT_NS = 500_000_000;

  private LockState called = LockState.SECURED;
  private LockState state = LockState.SECURED;
  private OptionalLong dueNs = OptionalLong.empty();

  /** Calls for a state; the bolt is there some time later. */
  void call(LockState wanted, long nowNs) {
    called = wanted;
    dueNs = state == wanted ? OptionalLong.empty() : OptionalLong.of(nowNs + BOLT_NS);
  }

  /**
   * Moves the bolt up to now; true if it has just come home.
   *
   * @param pointsLie whether the points lie in an end, where the bolt can go in
   */
  boolean advance(long nowNs, boolean pointsLie) {
    if (dueNs.isEmpty() || dueNs.getAsLong() > nowNs) {
      return false;
    }
    dueNs = OptionalLong.empty();
    boolean moves = called == LockState.RELEASED || pointsLie;
    state = moves ? called : state;
    return moves;
  }

  /** When the bolt comes home. */
  OptionalLong deadlineNs() {
    return dueNs;
  }

  /** Somebody breaks the seal and draws the bolt. */
  void breakOpen() {
    dueNs = OptionalLong.empty();
    state = LockState.RELEASED;
  }

  LockState called() {
    return called;
  }

  LockState state() {
    return state;
  }
}
