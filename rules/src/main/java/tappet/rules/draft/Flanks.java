package tappet.rules.draft;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * Finds the switches beside a route that, lying the other way, turn movements away from it (flank
 * protection; common practice, no source).
 *
 * <p>Others can come from the leg of a switch that the route does not take, and from the other
 * track of a diamond. Out along that track the first thing met decides: a signal that faces the
 * route holds them already; a switch met at its leg can turn them away; one met at its points
 * cannot, since both its legs lead here.
 */
final class Flanks {

  private final TrackPlan plan;
  private final Map<DraftedRoute, Map<String, Position>> kept = new LinkedHashMap<>();
  private final Map<DraftedRoute, List<LeftOut>> leftOut = new LinkedHashMap<>();
  private final Map<String, List<DraftedRoute>> setting = new LinkedHashMap<>();
  private final Map<String, List<DraftedRoute>> wantingNormal = new LinkedHashMap<>();

  /**
   * A switch that would protect a route and hinder another one that may run at the same time.
   *
   * @param switchId the switch
   * @param hindered the route that wants it the other way
   */
  record LeftOut(String switchId, DraftedRoute hindered) {}

  Flanks(List<DraftedRoute> routes, TrackPlan plan) {
    this.plan = plan;
    Map<DraftedRoute, Map<String, Position>> wanted = new LinkedHashMap<>();
    for (DraftedRoute route : routes) {
      route.path().switches().keySet().forEach(id -> note(setting, id, route));
      wanted.put(route, protecting(route));
    }
    wanted.forEach(this::noteThoseWantingNormal);
    wanted.forEach(this::keepWhatHindersNobody);
  }

  /** How switches beside {@code route} are to lie. */
  Map<String, Position> of(DraftedRoute route) {
    return kept.getOrDefault(route, Map.of());
  }

  /** The switches that would protect {@code route} and are not asked for. */
  List<LeftOut> leftOutOf(DraftedRoute route) {
    return leftOut.getOrDefault(route, List.of());
  }

  private void noteThoseWantingNormal(DraftedRoute route, Map<String, Position> positions) {
    positions.forEach(
        (id, position) -> {
          if (position == Position.NORMAL) {
            note(wantingNormal, id, route);
          }
        });
  }

  private void keepWhatHindersNobody(DraftedRoute route, Map<String, Position> wanted) {
    Map<String, Position> harmless = new LinkedHashMap<>();
    wanted.forEach(
        (id, position) ->
            hindered(route, id, position)
                .ifPresentOrElse(
                    other -> note(leftOut, route, new LeftOut(id, other)),
                    () -> harmless.put(id, position)));
    kept.put(route, harmless);
  }

  /**
   * A route that could otherwise be lined together with {@code route} and wants the switch the
   * other way, on its path or beside it. Of two that want a switch beside them, normal goes first.
   */
  private Optional<DraftedRoute> hindered(DraftedRoute route, String id, Position position) {
    Stream<DraftedRoute> onTheirPath =
        setting.getOrDefault(id, List.of()).stream()
            .filter(other -> other.path().switches().get(id) != position);
    Stream<DraftedRoute> besideThem =
        position == Position.NORMAL
            ? Stream.empty()
            : wantingNormal.getOrDefault(id, List.of()).stream();
    return Stream.concat(onTheirPath, besideThem)
        .filter(other -> !other.excludes(route))
        .findFirst();
  }

  private Map<String, Position> protecting(DraftedRoute route) {
    Map<String, Position> wanted = new LinkedHashMap<>();
    for (Track track : route.path().tracks()) {
      for (Approach side : sidesOf(track)) {
        protector(side, route).ifPresent(leg -> want(leg, route, wanted));
      }
    }
    return wanted;
  }

  /**
   * The switch turned away from the route, unless it is on it. Where both its legs lead there,
   * normal goes first: the two ends of a crossover lie alike.
   */
  private static void want(Track.Leg leg, DraftedRoute route, Map<String, Position> wanted) {
    if (!route.path().switches().containsKey(leg.switchId())) {
      wanted.merge(
          leg.switchId(),
          leg.position().opposite(),
          (one, other) -> one == other ? one : Position.NORMAL);
    }
  }

  /** A track by which others can come, and the joint at its far end. */
  private record Approach(Track track, String joint) {}

  private List<Approach> sidesOf(Track track) {
    if (track.leg().isPresent()) {
      Switch toe = plan.layout().switches().get(track.leg().get().switchId());
      Position other = track.leg().get().position().opposite();
      Track leg =
          new Track(
              toe.section(),
              toe.points(),
              toe.leg(other),
              Optional.of(new Track.Leg(toe.id(), other)));
      return List.of(new Approach(leg, leg.to()));
    }
    return plan.crossing(track).stream()
        .flatMap(
            other -> Stream.of(new Approach(other, other.from()), new Approach(other, other.to())))
        .toList();
  }

  private Optional<Track.Leg> protector(Approach start, DraftedRoute route) {
    Set<Track> seen = new HashSet<>();
    Approach side = start;
    while (seen.add(side.track()) && !route.runsOver(side.track()) && !isHeld(side)) {
      List<Track> beyond = plan.onwards(side.track(), side.joint());
      if (beyond.size() != 1) {
        return Optional.empty();
      }
      Track next = beyond.get(0);
      if (next.leg().isPresent()) {
        return next.leg();
      }
      side = new Approach(next, next.otherEnd(side.joint()));
    }
    return Optional.empty();
  }

  /** Whether a signal stands at the far end of the track and faces those who come. */
  private boolean isHeld(Approach side) {
    return plan.signalsAt(side.joint()).stream()
        .map(signal -> signal.into())
        .collect(Collectors.toSet())
        .contains(side.track().section());
  }

  private static <K, V> void note(Map<K, List<V>> lists, K key, V value) {
    lists.computeIfAbsent(key, any -> new ArrayList<>()).add(value);
  }
}
