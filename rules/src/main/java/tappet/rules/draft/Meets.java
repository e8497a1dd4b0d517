package tappet.rules.draft;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Finds routes that share no section and lead their trains toward each other on one track, from
 * which neither could go on (49 CFR 236.404, 236.773; interlocking sheet, H.1).
 */
final class Meets {

  private final TrackPlan plan;
  private final Map<String, List<DraftedRoute>> endingAt = new LinkedHashMap<>();
  private final Map<DraftedRoute, List<DraftedRoute>> meeting = new LinkedHashMap<>();

  Meets(List<DraftedRoute> routes, TrackPlan plan) {
    this.plan = plan;
    for (DraftedRoute route : routes) {
      endingAt.computeIfAbsent(endOf(route), joint -> new ArrayList<>()).add(route);
    }
    Set<DraftedRoute> before = new HashSet<>();
    for (DraftedRoute route : routes) {
      meeting.put(route, metBy(route).stream().filter(other -> !before.contains(other)).toList());
      before.add(route);
    }
  }

  /** The later routes that {@code route} must not be lined with: each pair stands in one row. */
  List<DraftedRoute> of(DraftedRoute route) {
    return meeting.getOrDefault(route, List.of());
  }

  /** Runs on from the end of {@code route} for as long as the track leaves no choice. */
  private List<DraftedRoute> metBy(DraftedRoute route) {
    List<DraftedRoute> met = new ArrayList<>();
    Set<Track> seen = new HashSet<>();
    Track track = route.lastTrack();
    String joint = endOf(route);
    while (seen.add(track)) {
      List<Track> onwards = plan.onwards(track, joint);
      endingAt.getOrDefault(joint, List.of()).stream()
          .filter(other -> onwards.contains(other.lastTrack()) && !other.excludes(route))
          .forEach(met::add);
      if (onwards.size() != 1 || onwards.get(0).leg().isPresent()) {
        return met;
      }
      track = onwards.get(0);
      joint = track.otherEnd(joint);
    }
    return met;
  }

  private String endOf(DraftedRoute route) {
    var signal = plan.layout().signals().get(route.path().to());
    return signal == null ? route.path().to() : signal.at();
  }
}
