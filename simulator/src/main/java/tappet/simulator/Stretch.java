package tappet.simulator;

import java.util.Optional;
import java.util.OptionalDouble;
import tappet.layout.Track;

/**
 * The part of a track that a train stands on.
 *
 * @param run the track, in the direction in which the train runs
 * @param rearMetres where the train's part begins, from the beginning of the run
 * @param headMetres where it ends
 */
record Stretch(Run run, double rearMetres, double headMetres) {

  /**
   * How far from its points the two legs of a switch are clear of each other: about that of a
   * number 6 switch in HO (common practice, no source).
   */
  static final double FOULING_METRES = 0.3;

  /** Couplers that meet so closely do not collide: it is less than rounding makes of nothing. */
  static final double MEETING_METRES = 1e-6;

  /** The leg of a switch this lies on, where it is so near the points as to foul the other leg. */
  Optional<Track.Leg> fouled() {
    return from() < FOULING_METRES ? run.track().leg() : Optional.empty();
  }

  /** Whether trains on the two stretches touch. A diamond is so short that all of it fouls. */
  boolean touches(Stretch other) {
    return run.track().equals(other.run.track())
        ? overlaps(other)
        : foulsLegBeside(other) || run.crosses(other.run);
  }

  /** How far along {@code way} a train comes to this one; empty where it is not in its way. */
  OptionalDouble reachedAlong(Run way) {
    if (run.track().equals(way.track())) {
      return OptionalDouble.of(run == way ? rearMetres : way.lengthMetres() - headMetres);
    }
    if (run.crosses(way)) {
      return OptionalDouble.of(0);
    }
    boolean foulsIt = fouled().stream().anyMatch(leg -> isOfOneSwitch(leg, way.track().leg()));
    double toFoulingPoint = way.outwards() ? 0 : way.lengthMetres() - FOULING_METRES;
    return foulsIt ? OptionalDouble.of(toFoulingPoint) : OptionalDouble.empty();
  }

  private static boolean isOfOneSwitch(Track.Leg leg, Optional<Track.Leg> other) {
    return other.filter(beside -> beside.switchId().equals(leg.switchId())).isPresent();
  }

  private boolean overlaps(Stretch other) {
    return from() + MEETING_METRES < other.to() && other.from() + MEETING_METRES < to();
  }

  private boolean foulsLegBeside(Stretch other) {
    return fouled().stream().anyMatch(leg -> isOfOneSwitch(leg, other.fouled()));
  }

  /** The nearer end, from the track's {@code from} joint: the points of a switch. */
  private double from() {
    return run.outwards() ? rearMetres : run.lengthMetres() - headMetres;
  }

  private double to() {
    return run.outwards() ? headMetres : run.lengthMetres() - rearMetres;
  }
}
