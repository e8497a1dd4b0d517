package tappet.bridge.proof;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import tappet.network.Variable;
import tappet.proof.Property;
import tappet.proof.Story;
import tappet.rules.AspectLadder;
import tappet.rules.ControlTable;
import tappet.rules.CrossingRow;
import tappet.rules.FlagRow;
import tappet.rules.LockRule;
import tappet.rules.RouteRow;
import tappet.rules.TrafficLine;
import tappet.source.Place;

/**
 * Which rows of a rule file a story is about. A story has nothing in it that could be left out, so
 * every row that it uses has a part in it; the one used last comes first.
 */
final class Blame {

  private static final Pattern ROUTE = Pattern.compile("route (\\S+): .*");

  private final ControlTable table;

  Blame(ControlTable table) {
    this.table = table;
  }

  List<Place> of(Property property, Story story) {
    List<RouteRow> routes = routes(story);
    Set<Place> places = new LinkedHashSet<>();
    switch (property.kind()) {
      case ASPECT_BEYOND, ASPECT_SPEED -> routes.forEach(row -> places.addAll(ladder(row)));
      case LINE_ONE_WAY ->
          table.lines().values().stream().map(TrafficLine::place).forEach(places::add);
      case LOCK_UNDER_AUTHORITY ->
          table.locks().values().stream()
              .filter(row -> isNamed(row.switchId(), property))
              .map(LockRule::place)
              .forEach(places::add);
      case PEOPLE -> table.flags().stream().map(FlagRow::place).forEach(places::add);
      case ROAD ->
          table.lineside().crossings().values().stream()
              .filter(row -> isNamed(row.crossing(), property))
              .map(CrossingRow::place)
              .forEach(places::add);
      default -> {
        // The rows of its routes are all that it uses.
      }
    }
    routes.forEach(row -> places.add(row.place()));
    return List.copyOf(places);
  }

  private static boolean isNamed(String id, Property property) {
    return List.of(property.words().split("[ :,]")).contains(id);
  }

  private Set<Place> ladder(RouteRow row) {
    return Optional.ofNullable(table.ladders().get(row.speed()))
        .map(AspectLadder::place)
        .map(Set::of)
        .orElse(Set.of());
  }

  /** The routes that are asked for, or whose time runs, the last one first. */
  private List<RouteRow> routes(Story story) {
    List<RouteRow> rows = new ArrayList<>();
    for (Story.Moment moment : story.moments()) {
      moment.pulses().stream().map(Variable::name).flatMap(this::route).forEach(rows::add);
    }
    Collections.reverse(rows);
    return rows.stream().distinct().toList();
  }

  private Stream<RouteRow> route(String pulse) {
    Matcher route = ROUTE.matcher(pulse);
    return route.matches() ? Stream.ofNullable(table.routes().get(route.group(1))) : Stream.of();
  }
}
