package tappet.simulator;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.layout.Track;

/** A piece of track, as a train runs over it in one direction. */
final class Run {

  private final Track track;
  private final String from;
  private final String towards;
  private final double lengthMetres;
  private final Optional<Track> crossing;
  private final List<Exit> exits = new ArrayList<>();
  private Run opposite = this;

  /**
   * A way to go on from the end of a run.
   *
   * @param run the run that follows
   * @param signals the signals that govern going on
   */
  record Exit(Run run, List<String> signals) {}

  private Run(Track track, String from, double lengthMetres, Optional<Track> crossing) {
    this.track = track;
    this.from = from;
    this.towards = track.otherEnd(from);
    this.lengthMetres = lengthMetres;
    this.crossing = crossing;
  }

  /**
   * The two runs over a track: away from its {@code from} joint, and back.
   *
   * @param crossing the track that crosses it at grade
   */
  static List<Run> bothWays(Track track, double lengthMetres, Optional<Track> crossing) {
    var out = new Run(track, track.from(), lengthMetres, crossing);
    var back = new Run(track, track.to(), lengthMetres, crossing);
    out.opposite = back;
    back.opposite = out;
    return List.of(out, back);
  }

  void add(Exit exit) {
    exits.add(exit);
  }

  Track track() {
    return track;
  }

  String section() {
    return track.section();
  }

  String from() {
    return from;
  }

  String towards() {
    return towards;
  }

  double lengthMetres() {
    return lengthMetres;
  }

  Run opposite() {
    return opposite;
  }

  List<Exit> exits() {
    return exits;
  }

  /** Whether the other one's track crosses its own at grade. */
  boolean crosses(Run other) {
    return crossing.equals(Optional.of(other.track));
  }

  /** Whether it leads away from the track's {@code from} joint, as a switch leg from its points. */
  boolean outwards() {
    return from.equals(track.from());
  }

  /** The leg that a train chooses by going on to this run: it comes to the points from in front. */
  Optional<Track.Leg> facing() {
    return outwards() ? track.leg() : Optional.empty();
  }
}
