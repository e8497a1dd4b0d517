package tappet.simulator;

import java.util.Optional;

/** The occupancy detector of a section. */
final class Detector {

  private boolean occupied;
  private Optional<Boolean> forced = Optional.empty();
  private boolean told;

  /** What a train, or none, does to it. */
  void see(boolean occupied) {
    this.occupied = occupied;
  }

  /** Makes it tell something whatever is on the track. */
  void force(boolean occupied) {
    forced = Optional.of(occupied);
  }

  /** Makes it tell the truth again. */
  void unforce() {
    forced = Optional.empty();
  }

  /** Whether it tells that the section is occupied. */
  boolean occupied() {
    return forced.orElse(occupied);
  }

  /** Whether this differs from what was told at the last call. */
  boolean hasChanged() {
    boolean changed = told != occupied();
    told = occupied();
    return changed;
  }
}
