package tappet.rules.draft;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Diamond;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.rules.RouteFinder;
import tappet.rules.RoutePath;
import tappet.rules.draft.DraftedRoute.End;

/**
 * Drafts the routes: from each signal to the next one or to the end of track.
 *
 * <p>Where no signal follows, a route runs over its switches and crossings, past the opposing
 * signal that marks the end of their limits (49 CFR 236.753) and on over plain track. It ends where
 * further switches or crossings begin, or where one more opposing signal stands: what lies there no
 * signal governs for its direction.
 */
final class RouteDrafter {

  private final TrackPlan plan;
  private final Set<String> interlocked;
  private final Set<String> idsTaken = new HashSet<>();

  RouteDrafter(TrackPlan plan) {
    this.plan = plan;
    this.interlocked =
        Stream.concat(
                plan.layout().switches().values().stream().map(Switch::section),
                plan.layout().diamonds().values().stream().map(Diamond::section))
            .collect(Collectors.toSet());
  }

  /** By signal, in the order of the layout: the routes that start there. */
  Map<Signal, List<DraftedRoute>> routes() {
    Map<Signal, List<DraftedRoute>> routes = new LinkedHashMap<>();
    plan.layout().signals().values().forEach(signal -> routes.put(signal, from(signal)));
    return routes;
  }

  private List<DraftedRoute> from(Signal signal) {
    Map<RoutePath, End> ends = new LinkedHashMap<>();
    for (RoutePath path : RouteFinder.pathsFrom(signal, plan)) {
      if (plan.layout().signals().containsKey(path.to())) {
        ends.put(path, End.SIGNAL);
      } else {
        endWhereSignalsEnd(path, ends);
      }
    }
    return ends.entrySet().stream()
        .map(
            way ->
                new DraftedRoute(
                    id(way.getKey()), way.getKey(), numbers(way.getKey()), way.getValue()))
        .toList();
  }

  private Map<String, Position> numbers(RoutePath path) {
    Map<String, Position> numbers = new LinkedHashMap<>();
    path.switches()
        .forEach(
            (id, position) -> numbers.put(plan.layout().switches().get(id).number(), position));
    return numbers;
  }

  private String id(RoutePath path) {
    String id = DraftedRoute.defaultId(path);
    for (int number = 2; !idsTaken.add(id); number++) {
      id = DraftedRoute.defaultId(path) + "-" + number;
    }
    return id;
  }

  private void endWhereSignalsEnd(RoutePath path, Map<RoutePath, End> ends) {
    boolean inside = false;
    boolean outside = false;
    String joint = plan.layout().signals().get(path.from()).at();
    for (int count = 1; count < path.tracks().size(); count++) {
      Track track = path.tracks().get(count - 1);
      joint = track.otherEnd(joint);
      boolean opposed = opposingSignalAt(joint, track);
      if (opposed && outside) {
        ends.put(upTo(joint, count, path), End.SIGNALS_FOR_THE_OTHER_DIRECTION);
        return;
      }
      inside |= interlocked.contains(track.section());
      outside |= opposed && inside;
      if (outside && entersLimits(track, path.tracks().get(count))) {
        ends.put(upTo(joint, count, path), End.UNSIGNALLED_LIMITS);
        return;
      }
    }
    ends.put(path, End.END_OF_TRACK);
  }

  private boolean opposingSignalAt(String joint, Track arrival) {
    return plan.signalsAt(joint).stream()
        .anyMatch(signal -> signal.into().equals(arrival.section()));
  }

  private boolean entersLimits(Track track, Track next) {
    return !track.section().equals(next.section()) && interlocked.contains(next.section());
  }

  private static RoutePath upTo(String joint, int count, RoutePath path) {
    List<Track> tracks = path.tracks().subList(0, count);
    Map<String, Position> switches = new LinkedHashMap<>();
    List<String> sections = new ArrayList<>();
    for (Track track : tracks) {
      track
          .leg()
          .filter(leg -> path.switches().containsKey(leg.switchId()))
          .ifPresent(leg -> switches.put(leg.switchId(), leg.position()));
      if (!sections.contains(track.section())) {
        sections.add(track.section());
      }
    }
    return new RoutePath(path.from(), joint, sections, switches, tracks);
  }
}
