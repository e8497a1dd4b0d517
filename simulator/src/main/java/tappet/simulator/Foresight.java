package tappet.simulator;

import java.util.Collection;
import java.util.List;

/**
 * How long trains roll on without anything that can be seen from outside: none comes to another
 * joint, fouls another switch, starts, stops, or could touch another train.
 *
 * <p>Holds while nothing is done to the railway; errs only towards less.
 */
final class Foresight {

  /** More than any session; all trains but standing ones have an end in sight. */
  private static final long FOR_EVER = 1_000_000;

  private final List<Train> trains;
  private final double stepSeconds;

  /**
   * @param stepSeconds how long a step is
   */
  Foresight(Collection<Train> trains, double stepSeconds) {
    this.trains = List.copyOf(trains);
    this.stepSeconds = stepSeconds;
  }

  /** How many steps to come are quiet, from 0. */
  long quietSteps() {
    long steps = FOR_EVER;
    for (Train train : trains) {
      steps = Math.min(steps, quietSteps(train));
    }
    return steps > 0 && anyMayTouch() ? 0 : steps;
  }

  private long quietSteps(Train train) {
    if (train.isWrecked()) {
      return FOR_EVER;
    }
    if (!train.isMoving()) {
      return train.isStillWhateverTrainsDo() ? FOR_EVER : 0;
    }
    double seconds =
        Math.min(train.secondsOnTheMove(), train.consist().metresToChange() / train.speedAtMost());
    return Math.max(0, (long) (seconds / stepSeconds) - 1); // one less: nothing hangs on rounding
  }

  private boolean anyMayTouch() {
    for (Train one : trains) {
      for (Train other : trains) {
        if (one != other && one.isMoving() && one.consist().sharesTrackWith(other.consist())) {
          return true;
        }
      }
    }
    return false;
  }
}
