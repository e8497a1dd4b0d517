package tappet.rules;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.GradeCrossing;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the rows of the grade crossings and holds them against the track plan. */
final class CrossingReader {

  private static final String KEY = "grade crossings";
  private static final String EXAMPLE =
      "[{crossing: mill-road, approaches: [[far, near]], time-out: 60 s}]";

  /** Transport Canada, Grade Crossings Standards, 16.1; 49 CFR 234.225. */
  private static final Duration WARNING = Duration.ofSeconds(20);

  private static final Duration TIME_OUT = Duration.ofSeconds(60);

  private final Layout layout;
  private final Optional<TrackPlan> plan;
  private final Map<String, RouteRow> rows;
  private final Collection<String> routesWritten;
  private final Problems problems;
  private final Declared declared;
  private final Map<String, CrossingRow> crossings = new LinkedHashMap<>();

  /**
   * @param plan empty where it is not known to be right
   * @param rows the routes that could be read
   * @param routesWritten the ids of all rows, also of those that a mistake leaves out
   */
  CrossingReader(
      Layout layout,
      Optional<TrackPlan> plan,
      Map<String, RouteRow> rows,
      Collection<String> routesWritten,
      Problems problems) {
    this.layout = layout;
    this.plan = plan;
    this.rows = rows;
    this.routesWritten = routesWritten;
    this.problems = problems;
    this.declared = new Declared(problems);
  }

  Map<String, CrossingRow> read(Fields file) {
    Value written = file.optional(KEY, EXAMPLE);
    List<String> named = new ArrayList<>();
    for (Value item : written.items()) {
      item.called("the grade crossing", EXAMPLE)
          .read(fields -> row(fields, named))
          .flatMap(row -> row)
          .ifPresent(row -> crossings.put(row.crossing(), row));
    }
    layout.lineside().crossings().keySet().stream()
        .filter(id -> !named.contains(id))
        .forEach(id -> noteWithoutRow(id, file.place()));
    return crossings;
  }

  private void noteWithoutRow(String crossing, Place file) {
    problems.add(
        file,
        "grade crossing '%s' of the layout has no row, and would warn for ever".formatted(crossing),
        "add for example '%s: %s'".formatted(KEY, EXAMPLE.replace("mill-road", crossing)));
  }

  private Optional<CrossingRow> row(Fields fields, List<String> named) {
    var written = fields.required("crossing", "mill-road");
    var crossing =
        declared
            .name(written, "grade crossing", layout.lineside().crossings().keySet())
            .map(YamlNode.Text::value);
    if (crossing.filter(named::contains).isPresent()) {
      written.note(
          "grade crossing '%s' has its row already".formatted(crossing.get()),
          "put all of its approaches into one row");
    }
    crossing.ifPresent(named::add);
    var waysWritten = fields.required("approaches", "[[far, near]]");
    var ways = ways(waysWritten);
    var starters = fields.optional("started by", "[t2e-t4e]").items();
    var warning = RuleReader.aboveZero(fields.optional("warning", "20 s")).orElse(WARNING);
    var timeOut = RuleReader.aboveZero(fields.optional("time-out", "60 s")).orElse(TIME_OUT);
    if (crossing.isEmpty() || ways.isEmpty()) {
      return Optional.empty();
    }
    var island = layout.lineside().crossings().get(crossing.get());
    checkWays(island, ways, waysWritten);
    var routes = routes(starters, island, ways);
    return Optional.of(
        new CrossingRow(
            island.id(),
            ways.stream().map(way -> approach(way, island, routes)).toList(),
            warning,
            timeOut,
            fields.place()));
  }

  /** Empty where any section of them is not known. */
  private List<List<String>> ways(Value written) {
    List<List<String>> ways = new ArrayList<>();
    for (Value item : written.items()) {
      var way = declared.names(item, "section", layout.sections().keySet());
      if (way.isEmpty() || way.size() < item.items().size()) {
        return List.of();
      }
      ways.add(WrittenRow.values(way));
    }
    if (written.present() && ways.isEmpty()) {
      written.note(
          "a warning that starts on the road itself comes too late",
          "write for example 'approaches: [[far, near]]'");
    }
    return ways;
  }

  private void checkWays(GradeCrossing crossing, List<List<String>> ways, Value written) {
    List<String> nearest = new ArrayList<>();
    for (List<String> way : ways) {
      String last = way.get(way.size() - 1);
      if (nearest.contains(last)) {
        written.note(
            "two approaches come by section '%s'".formatted(last),
            "put them into one, with that section last");
      }
      nearest.add(last);
      List<String> run = new ArrayList<>(way);
      run.add(crossing.island());
      if (Set.copyOf(run).size() < run.size()) {
        noteTwice(run, written);
      }
      checkRun(run, written);
    }
  }

  private static void noteTwice(List<String> run, Value written) {
    run.stream()
        .filter(section -> run.indexOf(section) < run.lastIndexOf(section))
        .findFirst()
        .ifPresent(
            section ->
                written.note(
                    "section '%s' stands twice on one way over the road".formatted(section),
                    "name each section once, and not the one that the road crosses"));
  }

  /** Where tracks join before the road, a section leads to a later one that is not the next. */
  private void checkRun(List<String> run, Value written) {
    for (int index = 0; plan.isPresent() && index < run.size() - 1; index++) {
      String section = run.get(index);
      if (run.subList(index + 1, run.size()).stream().noneMatch(on -> areNeighbours(section, on))) {
        written.note(
            "section '%s' does not lead to section '%s'".formatted(section, run.get(index + 1)),
            "name each approach in the order of travel, the section next to the road last");
      }
    }
  }

  private boolean areNeighbours(String section, String next) {
    return !section.equals(next)
        && layout.joints().keySet().stream()
            .map(joint -> plan.orElseThrow().tracksAt(joint))
            .anyMatch(tracks -> holds(tracks, section) && holds(tracks, next));
  }

  private static boolean holds(List<Track> tracks, String section) {
    return tracks.stream().anyMatch(track -> track.section().equals(section));
  }

  private List<RouteRow> routes(
      List<Value> written, GradeCrossing crossing, List<List<String>> ways) {
    List<RouteRow> routes = new ArrayList<>();
    for (Value item : written) {
      var name = item.text().map(YamlNode.Text::value);
      name.filter(id -> !routesWritten.contains(id))
          .ifPresent(
              id ->
                  item.note(
                      "this rule file has no route '%s'".formatted(id),
                      NearNames.meant(id, routesWritten, "write the route's row first")));
      name.flatMap(id -> Optional.ofNullable(rows.get(id)))
          .filter(route -> comesOver(route, crossing, ways, item))
          .ifPresent(routes::add);
    }
    return routes;
  }

  private boolean comesOver(
      RouteRow route, GradeCrossing crossing, List<List<String>> ways, Value item) {
    boolean comes = ways.stream().anyMatch(way -> comesBy(route, way, crossing));
    if (!comes) {
      item.note(
          "route '%s' leads by no approach over section '%s'"
              .formatted(route.id(), crossing.island()),
          "name the routes on which a train goes on from an approach over the road");
    }
    return comes;
  }

  /** Whether a train on the route comes to the island from that way's last section. */
  private boolean comesBy(RouteRow route, List<String> way, GradeCrossing crossing) {
    String nearest = way.get(way.size() - 1);
    int island = route.path().indexOf(crossing.island());
    if (island > 0) {
      return route.path().get(island - 1).equals(nearest);
    }
    Signal signal = layout.signals().get(route.from());
    return island == 0 && plan.isPresent() && holds(plan.get().tracksAt(signal.at()), nearest);
  }

  private CrossingRow.Approach approach(
      List<String> way, GradeCrossing crossing, List<RouteRow> starters) {
    var over = rows.values().stream().filter(row -> comesBy(row, way, crossing)).toList();
    return new CrossingRow.Approach(
        way,
        standing(way, starters.stream().filter(over::contains).toList()),
        over.stream().map(RouteRow::id).toList());
  }

  /** A train that stands beyond a signal has its authority, or none that anybody knows of. */
  private static List<String> standing(List<String> way, List<RouteRow> starters) {
    return starters.isEmpty()
        ? List.of()
        : way.stream()
            .filter(section -> starters.stream().noneMatch(row -> row.path().contains(section)))
            .toList();
  }
}
