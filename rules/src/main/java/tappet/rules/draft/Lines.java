package tappet.rules.draft;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Signal;
import tappet.layout.SignalKind;
import tappet.layout.TrackPlan;
import tappet.sentence.Command.Heading;

/**
 * Finds lines between control points, whose traffic keeps apart the routes that lead into them from
 * both ends (49 CFR 236.405, 236.769). A stretch of track is made a line where routes would meet on
 * it, every route over it runs one way only, and routes that a dispatcher lines lead into it both
 * ways.
 */
final class Lines {

  /**
   * A line.
   *
   * @param id its name
   * @param sections its sections, from west to east
   * @param ways the routes that run over it, each way
   */
  record Line(String id, List<String> sections, Map<Heading, Set<DraftedRoute>> ways) {

    /** The signals that lead over it one way, in the order of their routes. */
    List<String> signals(Heading heading) {
      return ways.get(heading).stream().map(route -> route.path().from()).distinct().toList();
    }

    private boolean opposes(DraftedRoute one, DraftedRoute other) {
      return ways.entrySet().stream()
          .anyMatch(
              way ->
                  way.getValue().contains(one)
                      && ways.get(way.getKey().opposite()).contains(other));
    }

    private boolean holdsAllOf(DraftedRoute route) {
      return sections.containsAll(route.path().sections());
    }
  }

  private final TrackPlan plan;
  private final List<DraftedRoute> routes;
  private final Meets meets;
  private final Map<String, Line> lines = new LinkedHashMap<>();

  Lines(List<DraftedRoute> routes, Meets meets, TrackPlan plan) {
    this.plan = plan;
    this.routes = routes;
    this.meets = meets;
    routes.stream()
        .filter(route -> !meets.of(route).isEmpty())
        .flatMap(route -> Stretch.around(route.lastTrack(), plan).stream())
        .distinct()
        .flatMap(stretch -> lineOver(stretch).stream())
        .forEach(line -> lines.putIfAbsent(line.id(), line));
  }

  List<Line> all() {
    return List.copyOf(lines.values());
  }

  /** The line whose traffic calls the route's signal; empty where a dispatcher lines it. */
  Optional<Line> callerOf(DraftedRoute route) {
    return lines.values().stream().filter(line -> isAutomatic(route, line)).findFirst();
  }

  /** The later routes that a route must not be lined with, though no traffic keeps them apart. */
  List<DraftedRoute> notWith(DraftedRoute route) {
    return meets.of(route).stream()
        .filter(other -> lines.values().stream().noneMatch(line -> line.opposes(route, other)))
        .toList();
  }

  private Optional<Line> lineOver(Stretch stretch) {
    Set<String> sections = stretch.sections();
    Map<Heading, Set<DraftedRoute>> ways = new EnumMap<>(Heading.class);
    for (Heading heading : Heading.values()) {
      ways.put(heading, new LinkedHashSet<>());
    }
    for (DraftedRoute route : routes) {
      if (route.path().sections().stream().anyMatch(sections::contains)) {
        Set<Heading> headings = EnumSet.noneOf(Heading.class);
        route.passes(plan).forEach(pass -> headings.addAll(stretch.headingsOf(pass)));
        if (headings.size() != 1) {
          return Optional.empty();
        }
        headings.forEach(heading -> ways.get(heading).add(route));
      }
    }
    List<String> listed = List.copyOf(sections);
    Line line = new Line(name(listed), listed, ways);
    return fits(line) ? Optional.of(line) : Optional.empty();
  }

  private static String name(List<String> sections) {
    String first = sections.get(0);
    String last = sections.get(sections.size() - 1);
    return first.equals(last) ? first + "-line" : first + "-to-" + last;
  }

  private boolean fits(Line line) {
    return routes.stream().anyMatch(route -> meetsAnotherOn(line, route))
        && eachSignalLeadsOneWay(line)
        && line.ways().values().stream().allMatch(way -> isEnteredByADispatcher(way, line))
        && routes.stream().noneMatch(route -> meetsAnAutomatic(route, line));
  }

  private boolean meetsAnotherOn(Line line, DraftedRoute route) {
    return meets.of(route).stream().anyMatch(other -> line.opposes(route, other));
  }

  private static boolean eachSignalLeadsOneWay(Line line) {
    return line.signals(Heading.EAST).stream().noneMatch(line.signals(Heading.WEST)::contains);
  }

  private boolean isEnteredByADispatcher(Set<DraftedRoute> way, Line line) {
    return way.stream().anyMatch(route -> !isAutomatic(route, line));
  }

  /** Nothing keeps a route from an automatic signal but the line's traffic. */
  private boolean meetsAnAutomatic(DraftedRoute route, Line line) {
    return meets.of(route).stream()
        .filter(other -> isAutomatic(route, line) || isAutomatic(other, line))
        .anyMatch(other -> !line.opposes(route, other));
  }

  /** The plan calls its signal automatic, and none of the signal's routes leads off the line. */
  private boolean isAutomatic(DraftedRoute route, Line line) {
    Signal signal = plan.layout().signals().get(route.path().from());
    return signal.kind() == SignalKind.AUTOMATIC
        && line.holdsAllOf(route)
        && routes.stream()
            .filter(other -> other.path().from().equals(signal.id()))
            .allMatch(line::holdsAllOf);
  }
}
