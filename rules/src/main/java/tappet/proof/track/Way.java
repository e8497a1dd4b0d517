package tappet.proof.track;

import java.util.List;
import java.util.Optional;
import tappet.layout.Signal;
import tappet.layout.Track;

/**
 * A way that a train may go on the authority of a signal, as the track lies: to the next signal
 * that faces it, or as far as authority can reach where there is none.
 *
 * @param from the signal
 * @param tracks what it runs over, in order
 * @param legs where its switches must lie; without those that a train springs open itself
 * @param next the signal that it ends at
 */
record Way(Signal from, List<Track> tracks, List<Track.Leg> legs, Optional<Signal> next) {
  Way {
    tracks = List.copyOf(tracks);
    legs = List.copyOf(legs);
  }

  /** Its sections in the order of travel. */
  List<String> sections() {
    return tracks.stream().map(Track::section).distinct().toList();
  }

  /** Whether it leads over a switch, or is trailed through one. */
  boolean leadsOver(String switchId) {
    return tracks.stream()
        .flatMap(track -> track.leg().stream())
        .anyMatch(leg -> leg.switchId().equals(switchId));
  }

  /** Where it ends, for people: a signal or a joint. */
  String end() {
    return next.map(Signal::id).orElseGet(this::lastJoint);
  }

  private String lastJoint() {
    String joint = from.at();
    for (Track track : tracks) {
      joint = track.otherEnd(joint);
    }
    return joint;
  }

  /** What it is called in the names of variables: its ends, and the switches that tell it apart. */
  String id() {
    StringBuilder id = new StringBuilder(from.id()).append(" to ").append(end());
    legs.forEach(
        leg -> id.append(", ").append(leg.switchId()).append(' ').append(leg.position().word()));
    return id.toString();
  }
}
