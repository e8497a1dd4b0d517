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
 *
 * <p>Switches that move together are asked for once, by the end that was met first. One that no
 * dispatcher throws cannot be called to turn anything away: it is asked to lie normal, as it is
 * left, and never reverse.
 */
final class Flanks {

  private final TrackPlan plan;
  private final Map<DraftedRoute, Map<String, Position>> kept = new LinkedHashMap<>();
  private final Map<DraftedRoute, List<LeftOut>> leftOut = new LinkedHashMap<>();
  private final Map<String, List<DraftedRoute>> setting = new LinkedHashMap<>();
  private final Map<String, List<DraftedRoute>> wantingNormal = new LinkedHashMap<>();

  /**
   * A switch that would protect a route and is not asked for.
   *
   * @param switchId the switch
   * @param because why not, as a clause
   */
  record LeftOut(String switchId, String because) {}

  Flanks(List<DraftedRoute> routes, TrackPlan plan) {
    this.plan = plan;
    Map<DraftedRoute, Map<String, Position>> wanted = new LinkedHashMap<>();
    for (DraftedRoute route : routes) {
      route.numbers().keySet().forEach(number -> note(setting, number, route));
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
            note(wantingNormal, number(id), route);
          }
        });
  }

  private void keepWhatHindersNobody(DraftedRoute route, Map<String, Position> wanted) {
    Map<String, Position> harmless = new LinkedHashMap<>();
    wanted.forEach(
        (id, position) ->
            hindrance(route, id, position)
                .ifPresentOrElse(
                    why -> note(leftOut, route, new LeftOut(id, why)),
                    () -> harmless.put(id, position)));
    kept.put(route, harmless);
  }

  private Optional<String> hindrance(DraftedRoute route, String id, Position position) {
    Optional<String> thrownBy = thrownByAnother(id).filter(any -> position == Position.REVERSE);
    return thrownBy.isPresent()
        ? thrownBy.map(another -> another + ", and no route could call it reverse")
        : hindered(route, number(id), position)
            .map(other -> other.id() + " wants it the other way at the same time");
  }

  /** Who throws a switch where the dispatcher does not. */
  Optional<String> thrownByAnother(String id) {
    return switch (plan.layout().switches().get(id).control()) {
      case DISPATCHER -> Optional.empty();
      case LOCAL -> Optional.of("it is thrown beside the track");
      case RELEASED, HAND -> Optional.of("it is thrown by hand");
      case SPRUNG -> Optional.of("it is sprung");
    };
  }

  private String number(String id) {
    return plan.layout().switches().get(id).number();
  }

  /**
   * A route that could otherwise be lined together with {@code route} and wants what has that
   * number the other way, on its path or beside it. Of two that want it beside them, normal goes
   * first.
   */
  private Optional<DraftedRoute> hindered(DraftedRoute route, String number, Position position) {
    Stream<DraftedRoute> onTheirPath =
        setting.getOrDefault(number, List.of()).stream()
            .filter(other -> other.numbers().get(number) != position);
    Stream<DraftedRoute> besideThem =
        position == Position.NORMAL
            ? Stream.empty()
            : wantingNormal.getOrDefault(number, List.of()).stream();
    return Stream.concat(onTheirPath, besideThem)
        .filter(other -> !other.excludes(route))
        .findFirst();
  }

  private Map<String, Position> protecting(DraftedRoute route) {
    Map<String, Track.Leg> met = new LinkedHashMap<>();
    for (Track track : route.path().tracks()) {
      for (Approach side : sidesOf(track)) {
        protector(side, route)
            .filter(leg -> !route.numbers().containsKey(number(leg.switchId())))
            .ifPresent(leg -> met.merge(number(leg.switchId()), leg, Flanks::turnedNormal));
      }
    }
    Map<String, Position> wanted = new LinkedHashMap<>();
    met.values().forEach(leg -> wanted.put(leg.switchId(), leg.position().opposite()));
    return wanted;
  }

  /**
   * Of two legs by which others can come, over switches that lie alike, the one from which normal
   * turns them away.
   */
  private static Track.Leg turnedNormal(Track.Leg first, Track.Leg second) {
    return first.position() == Position.REVERSE ? first : second;
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
