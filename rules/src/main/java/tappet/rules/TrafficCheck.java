package tappet.rules;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.TrackPlan;
import tappet.sentence.Command.Heading;
import tappet.source.NearNames;
import tappet.source.Problems;

/**
 * Holds lines between control points against the rows that run over them: a row that no line knows
 * of, or that is taken for running the other way, would let two trains meet head on.
 */
final class TrafficCheck {

  /** How a row runs through one section: the joints it comes in and goes out by. */
  private record Pass(RouteRow row, Heading heading, String in, String out) {

    boolean runsAgainst(Pass other) {
      return in.equals(other.out) || out.equals(other.in);
    }

    boolean runsWith(Pass other) {
      return in.equals(other.in) || out.equals(other.out);
    }
  }

  private final TrackPlan plan;
  private final ControlTable table;
  private final Problems problems;

  TrafficCheck(TrackPlan plan, ControlTable table, Problems problems) {
    this.plan = plan;
    this.table = table;
    this.problems = problems;
  }

  void check() {
    table.lines().values().forEach(this::check);
    table.routes().values().stream().filter(RouteRow::automatic).forEach(this::checkAutomatic);
  }

  private void check(TrafficLine line) {
    line.signals().forEach((heading, signals) -> checkSignals(line, signals));
    if (table.routes().values().stream().allMatch(row -> isKnown(line, row))) {
      line.sections().forEach(section -> checkWays(section, line));
    }
  }

  private void checkSignals(TrafficLine line, List<String> signals) {
    for (String signal : signals) {
      if (table.routesFrom(signal).stream().noneMatch(row -> line.touches(row.path()))) {
        problems.add(
            line.place(),
            "no route from %s runs over line %s".formatted(signal, line.id()),
            NearNames.meant(signal, signalsOver(line), "write the route's row first"));
      }
    }
  }

  private List<String> signalsOver(TrafficLine line) {
    return table.routes().values().stream()
        .filter(row -> line.touches(row.path()))
        .map(RouteRow::from)
        .distinct()
        .toList();
  }

  private boolean isKnown(TrafficLine line, RouteRow row) {
    if (!line.touches(row.path()) || line.headingOf(row).isPresent()) {
      return true;
    }
    problems.add(
        line.place(),
        "route %s in line %d runs over line %s, which does not say which way"
            .formatted(row.id(), row.place().line(), line.id()),
        "add %s under eastward or westward".formatted(row.from()));
    return false;
  }

  /** All that run one way come in by the same side of a section, and the others by its other. */
  private void checkWays(String section, TrafficLine line) {
    List<Pass> passes = passesThrough(section, line);
    for (int one = 0; one < passes.size(); one++) {
      for (int other = 0; other < one; other++) {
        checkPair(passes.get(one), passes.get(other), section, line);
      }
    }
  }

  private void checkPair(Pass one, Pass other, String section, TrafficLine line) {
    boolean sameHeading = one.heading() == other.heading();
    if (sameHeading ? one.runsAgainst(other) : one.runsWith(other)) {
      problems.add(
          line.place(),
          "routes %s and %s run %s through section %s, but line %s has them %s"
              .formatted(
                  other.row().id(),
                  one.row().id(),
                  sameHeading ? "against each other" : "the same way",
                  section,
                  line.id(),
                  sameHeading ? "both " + one.heading().word() + "ward" : "opposed"),
          "look which way %s and %s lead".formatted(other.row().from(), one.row().from()));
    }
  }

  private List<Pass> passesThrough(String section, TrafficLine line) {
    List<Pass> passes = new ArrayList<>();
    for (RouteRow row : table.routes().values()) {
      if (row.path().contains(section)) {
        line.headingOf(row).flatMap(heading -> pass(row, heading, section)).ifPresent(passes::add);
      }
    }
    return passes;
  }

  private Optional<Pass> pass(RouteRow row, Heading heading, String section) {
    return RouteFinder.pathsBetween(plan.layout().signals().get(row.from()), row.to(), plan)
        .stream()
        .filter(path -> path.switches().equals(row.switches()))
        .findFirst()
        .map(path -> ends(path, section))
        .map(ends -> new Pass(row, heading, ends.get(0), ends.get(1)));
  }

  /** The joints between which a way lies in {@code section}. */
  private List<String> ends(RoutePath path, String section) {
    Map<String, List<String>> ends = new LinkedHashMap<>();
    for (int at = 0; at + 1 < path.joints().size(); at++) {
      String from = path.joints().get(at);
      String to = path.joints().get(at + 1);
      String first = ends.getOrDefault(sectionBetween(from, to), List.of(from)).get(0);
      ends.put(sectionBetween(from, to), List.of(first, to));
    }
    return ends.get(section);
  }

  private String sectionBetween(String from, String to) {
    return plan.tracksAt(from).stream()
        .filter(track -> track.otherEnd(from).equals(to))
        .findFirst()
        .orElseThrow()
        .section();
  }

  /** An automatic signal is held by nothing but the traffic of the line it stands on. */
  private void checkAutomatic(RouteRow row) {
    for (String section : row.path()) {
      boolean locked =
          table.lines().values().stream()
              .anyMatch(
                  line -> line.sections().contains(section) && line.headingOf(row).isPresent());
      if (!locked) {
        problems.add(
            row.place(),
            "route %s is automatic, and its section %s is on no line".formatted(row.id(), section),
            "add the section and %s to a line under 'traffic'".formatted(row.from()));
      }
    }
    if (!row.alsoClear().isEmpty() || !row.conflicts().isEmpty() || row.callOn().isPresent()) {
      problems.add(
          row.place(),
          "route %s is automatic and locks no other route".formatted(row.id()),
          "leave out 'not with', 'call on', 'overlap' and sections off its way");
    }
  }
}
