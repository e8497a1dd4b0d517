package tappet.rules;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.sentence.Command.Heading;
import tappet.source.NearNames;
import tappet.source.Problems;

/**
 * Holds lines between control points against the rows that run over them: a row that no line knows
 * of, or that is taken for running the other way, would let two trains meet head on.
 */
final class TrafficCheck {

  /**
   * How a row runs through one section of a line.
   *
   * @param in the joint it comes in by
   * @param out the joint it goes out by
   * @param sense 1 where it goes on to, or has come from, what the line lists further down; -1
   *     where it runs up the list; 0 where the joints do not tell
   */
  private record Pass(
      RouteRow row, Heading heading, String section, String in, String out, int sense) {

    boolean runsAgainst(Pass other) {
      return sense * other.sense < 0
          || (section.equals(other.section) && (in.equals(other.out) || out.equals(other.in)));
    }

    boolean runsWith(Pass other) {
      return sense * other.sense > 0
          || (section.equals(other.section) && (in.equals(other.in) || out.equals(other.out)));
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
    table.routes().values().forEach(this::checkNoneIsKeptFromAnAutomatic);
    table.routes().values().stream()
        .filter(row -> !row.alsoClear().isEmpty())
        .forEach(this::checkCanBeLined);
  }

  private void check(TrafficLine line) {
    line.signals().forEach((heading, signals) -> checkSignals(line, signals));
    if (isChain(line) && table.routes().values().stream().allMatch(row -> isKnown(line, row))) {
      checkWays(line);
    }
  }

  /** Each section adjoins the one listed before it. */
  private boolean isChain(TrafficLine line) {
    List<String> sections = List.copyOf(line.sections());
    for (int at = 1; at < sections.size(); at++) {
      if (!adjoin(sections.get(at - 1), sections.get(at))) {
        problems.add(
            line.place(),
            "section %s of line %s does not adjoin section %s"
                .formatted(sections.get(at), line.id(), sections.get(at - 1)),
            "list the sections from one end of the line to the other");
        return false;
      }
    }
    return true;
  }

  private boolean adjoin(String one, String other) {
    return plan.layout().joints().keySet().stream()
        .map(this::sectionsAt)
        .anyMatch(sections -> sections.contains(one) && sections.contains(other));
  }

  private List<String> sectionsAt(String joint) {
    return plan.tracksAt(joint).stream().map(Track::section).toList();
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

  /** All that run one way run the same way, and the others against them. */
  private void checkWays(TrafficLine line) {
    List<Pass> passes = passesOver(line);
    for (int one = 1; one < passes.size(); one++) {
      for (int other = 0; other < one; other++) {
        if (disagree(passes.get(one), passes.get(other))) {
          noteWays(passes.get(other), passes.get(one), line);
          return;
        }
      }
    }
  }

  private static boolean disagree(Pass one, Pass other) {
    return one.heading() == other.heading() ? one.runsAgainst(other) : one.runsWith(other);
  }

  private void noteWays(Pass one, Pass other, TrafficLine line) {
    boolean sameHeading = one.heading() == other.heading();
    problems.add(
        line.place(),
        "routes %s and %s run %s over line %s, which has them %s"
            .formatted(
                one.row().id(),
                other.row().id(),
                sameHeading ? "against each other" : "the same way",
                line.id(),
                sameHeading ? "both " + one.heading().word() + "ward" : "opposed"),
        "look which way %s and %s lead".formatted(one.row().from(), other.row().from()));
  }

  private List<Pass> passesOver(TrafficLine line) {
    List<Pass> passes = new ArrayList<>();
    for (RouteRow row : table.routes().values()) {
      line.headingOf(row).ifPresent(heading -> addPasses(row, heading, line, passes));
    }
    return passes;
  }

  private void addPasses(RouteRow row, Heading heading, TrafficLine line, List<Pass> passes) {
    RoutePath path =
        RouteFinder.pathsBetween(plan.layout().signals().get(row.from()), row.to(), plan).stream()
            .filter(way -> way.switches().equals(row.switches()))
            .findFirst()
            .orElseThrow();
    List<String> order = List.copyOf(line.sections());
    for (String section : row.path()) {
      if (line.sections().contains(section)) {
        List<String> ends = ends(path, section);
        int sense = further(ends.get(1), section, order) - further(ends.get(0), section, order);
        passes.add(
            new Pass(row, heading, section, ends.get(0), ends.get(1), Integer.signum(sense)));
      }
    }
  }

  /** 1 where a joint leads to a section further down the line's list, -1 further up, else 0. */
  private int further(String joint, String section, List<String> order) {
    return sectionsAt(joint).stream()
        .filter(other -> order.contains(other) && !other.equals(section))
        .mapToInt(other -> Integer.signum(order.indexOf(other) - order.indexOf(section)))
        .findFirst()
        .orElse(0);
  }

  /** The joints between which a way lies in {@code section}. */
  private List<String> ends(RoutePath path, String section) {
    String at = plan.layout().signals().get(path.from()).at();
    List<String> ends = new ArrayList<>();
    for (Track track : path.tracks()) {
      String further = track.otherEnd(at);
      if (track.section().equals(section)) {
        String first = ends.isEmpty() ? at : ends.get(0);
        ends = List.of(first, further);
      }
      at = further;
    }
    return ends;
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

  /** What keeps trains from an automatic signal is traffic; no row could hold it. */
  private void checkNoneIsKeptFromAnAutomatic(RouteRow row) {
    row.conflicts().stream()
        .filter(other -> table.routes().get(other).automatic())
        .forEach(
            other ->
                problems.add(
                    row.place(),
                    "route %s is not to be set with '%s', which is automatic and never lined"
                        .formatted(row.id(), other),
                    "let its line have the signals of both under 'traffic'"));
  }

  /** The traffic of a line that is run one way is never freed, once it is set. */
  private void checkCanBeLined(RouteRow row) {
    Set<String> beyond = table.signalsBeyond(row);
    for (RouteRow other : table.routes().values()) {
      if (other.automatic() && !beyond.contains(other.from())) {
        row.alsoClear().stream()
            .filter(other.path()::contains)
            .filter(section -> isRunOneWay(other))
            .forEach(section -> noteNeverLined(row, section, other));
      }
    }
  }

  private boolean isRunOneWay(RouteRow row) {
    return table.lines().values().stream()
        .anyMatch(line -> line.headingOf(row).isPresent() && !line.bothWays());
  }

  private void noteNeverLined(RouteRow row, String section, RouteRow automatic) {
    problems.add(
        row.place(),
        "route %s keeps section %s clear, into which %s leads trains all the time"
            .formatted(row.id(), section, automatic.from()),
        "let the dispatcher line %s, or leave the section out".formatted(automatic.from()));
  }
}
