package tappet.rules.draft;

import java.time.Duration;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Where trains may have seen a signal, and how long they need to pass it or to stop: looked back
 * from the signal to the one before, or to the end of track.
 */
final class Sighting {

  /** Trains of the sheet's example run this fast (interlocking sheet, G, scaling). */
  private static final double METRES_PER_SECOND = 0.3;

  /** For braking, detection, the bus, and a margin: 12 s for the sheet's example of 2 m. */
  private static final double BRAKING_SECONDS = 5;

  private final TrackPlan plan;
  private final Set<String> sections = new LinkedHashSet<>();
  private final Set<Track> seen = new HashSet<>();
  private double metres;

  private Sighting(TrackPlan plan) {
    this.plan = plan;
  }

  /** What can be said of trains that come to {@code signal}. */
  static Sighting of(Signal signal, TrackPlan plan) {
    Sighting sighting = new Sighting(plan);
    plan.tracksAt(signal.at()).stream()
        .filter(arrival -> leadsInto(signal, arrival, plan))
        .forEach(arrival -> sighting.lookBack(arrival, signal.at(), "", 0));
    return sighting;
  }

  /**
   * The sections in which a train may have seen the signal: as far as the one before, whose aspect
   * depends on it, and the section in which a train stands before that (look-back, GK/RT0063).
   */
  List<String> sections() {
    return List.copyOf(sections);
  }

  /** The longest way from the signal before, or from the end of track. */
  double metres() {
    return metres;
  }

  /** How long a train may take to run up to the signal and stop, in whole seconds. */
  Duration release() {
    return Duration.ofSeconds((long) Math.ceil(metres / METRES_PER_SECOND + BRAKING_SECONDS));
  }

  private static boolean leadsInto(Signal signal, Track arrival, TrackPlan plan) {
    return plan.onwards(arrival, signal.at()).stream()
        .anyMatch(track -> track.section().equals(signal.into()));
  }

  private void lookBack(Track track, String joint, String sectionAhead, double metresAhead) {
    if (!seen.add(track)) {
      return;
    }
    double whole = plan.layout().sections().get(track.section()).lengthMetres();
    double far = metresAhead + (track.section().equals(sectionAhead) ? 0 : whole);
    metres = Math.max(metres, far);
    sections.add(track.section());
    String behind = track.otherEnd(joint);
    List<Track> before = plan.onwards(track, behind);
    if (governed(track, behind)) {
      before.forEach(rear -> sections.add(rear.section()));
    } else {
      before.forEach(rear -> lookBack(rear, behind, track.section(), far));
    }
  }

  /** Whether a signal at {@code joint} governs movements onto the track. */
  private boolean governed(Track track, String joint) {
    return plan.signalsAt(joint).stream().anyMatch(signal -> signal.into().equals(track.section()));
  }
}
