package tappet.rules;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/** Which positions of the switches beside a section lead away from it. */
public final class LinedAway {

  private LinedAway() {}

  /**
   * One position for each leg that leads straight into {@code section}: the other one of its
   * switch. Where both legs of a switch lead into it, as in a loop, both are named and no position
   * leads away.
   */
  public static List<Track.Leg> from(String section, TrackPlan plan) {
    List<Track.Leg> away = new ArrayList<>();
    for (String joint : joints(section, plan)) {
      plan.tracksAt(joint).stream()
          .filter(track -> !track.section().equals(section) && track.to().equals(joint))
          .flatMap(track -> track.leg().stream())
          .map(leg -> new Track.Leg(leg.switchId(), leg.position().opposite()))
          .forEach(away::add);
    }
    return away;
  }

  private static Set<String> joints(String section, TrackPlan plan) {
    Set<String> joints = new LinkedHashSet<>();
    for (Track track : plan.tracksIn(section)) {
      joints.add(track.from());
      joints.add(track.to());
    }
    return joints;
  }
}
