package tappet.simulator;

import java.util.Optional;
import java.util.OptionalLong;

/** The occupancy detector of a section. */
final class Detector {

  /** How long what flickers is seen, and not seen, in turn. */
  static final long FLICKER_NS = 1_000_000_000;

  private boolean occupied;
  private Optional<Boolean> forced = Optional.empty();
  private boolean told;
  private boolean blind;
  private OptionalLong blinksNs = OptionalLong.empty();

  /** Loses what stands there from now on, sees it again, and so on. */
  void flicker(long nowNs) {
    blind = true;
    blinksNs = OptionalLong.of(nowNs + FLICKER_NS);
  }

  /** Sees what is there again. */
  void steady() {
    blind = false;
    blinksNs = OptionalLong.empty();
  }

  /** When it next loses or sees again what is there. */
  OptionalLong deadlineNs() {
    return blinksNs;
  }

  /** Loses or sees again what is there, if it is time; true if so. */
  boolean advance(long nowNs) {
    boolean blinks = blinksNs.isPresent() && blinksNs.getAsLong() <= nowNs;
    if (blinks) {
      blind = !blind;
      blinksNs = OptionalLong.of(blinksNs.getAsLong() + FLICKER_NS);
    }
    return blinks;
  }

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
    return forced.orElse(occupied && !blind);
  }

  /** Whether this differs from what was told at the last call. */
  boolean hasChanged() {
    boolean changed = told != occupied();
    told = occupied();
    return changed;
  }
}
