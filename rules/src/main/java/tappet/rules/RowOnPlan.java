package tappet.rules;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.YamlNode;

/** Holds rows against the track plan: whether there is such a way, and whether the lists fit it. */
final class RowOnPlan {

  private final TrackPlan plan;
  private final Layout layout;
  private final Problems problems;
  private final Numbers numbers;

  RowOnPlan(TrackPlan plan, Problems problems) {
    this.plan = plan;
    this.layout = plan.layout();
    this.problems = problems;
    this.numbers = new Numbers(layout, problems);
  }

  TrackPlan plan() {
    return plan;
  }

  /** The way that a row describes; notes what does not fit. */
  Optional<RoutePath> path(WrittenRow row) {
    Optional<RoutePath> path = wayOf(row);
    path.ifPresent(found -> checkLists(found, row));
    numbers.check(row);
    if (row.listsItsApproach()) {
      noteMissingApproach(row);
    }
    return path;
  }

  private Optional<RoutePath> wayOf(WrittenRow row) {
    YamlNode.Text from = row.from().orElseThrow();
    YamlNode.Text to = row.to().orElseThrow();
    Signal signal = layout.signals().get(from.value());
    List<RoutePath> thither = RouteFinder.pathsBetween(signal, to.value(), plan);
    if (thither.isEmpty()) {
      noteNoPath(from, to, RouteFinder.pathsFrom(signal, plan));
      return Optional.empty();
    }
    Map<String, Position> wanted = numbers.withOtherEnds(row.positions());
    RoutePath nearest = nearest(thither, wanted);
    if (row.hasAllPositions()) {
      noteMissing(nearest, row, wanted.keySet());
    }
    row.positions().forEach((id, position) -> notePosition(id, position, nearest));
    return wanted.entrySet().containsAll(nearest.switches().entrySet())
            && nearest.switches().keySet().containsAll(WrittenRow.byId(row.positions()).keySet())
        ? Optional.of(nearest)
        : Optional.empty();
  }

  private static RoutePath nearest(List<RoutePath> paths, Map<String, Position> wanted) {
    return paths.stream()
        .max((one, other) -> Long.compare(agreements(one, wanted), agreements(other, wanted)))
        .orElseThrow();
  }

  private static long agreements(RoutePath path, Map<String, Position> wanted) {
    return path.switches().entrySet().stream().filter(wanted.entrySet()::contains).count();
  }

  private void noteNoPath(YamlNode.Text from, YamlNode.Text to, List<RoutePath> paths) {
    Set<String> ends = new TreeSet<>();
    paths.forEach(path -> ends.add(path.to()));
    boolean known =
        layout.signals().containsKey(to.value()) || layout.joints().containsKey(to.value());
    if (known) {
      problems.add(
          to.place(),
          "no track leads from %s to %s without passing another signal"
              .formatted(from.value(), to.value()),
          NearNames.meant(to.value(), ends, "look at the joints in the layout file"));
    } else {
      problems.add(
          to.place(),
          "this layout has no signal or end of track %s".formatted(to.shown()),
          NearNames.meant(to.value(), ends, "look at the joints in the layout file"));
    }
  }

  private void noteMissing(RoutePath path, WrittenRow row, Set<String> written) {
    Place place = row.switches().present() ? row.switches().place() : row.from().get().place();
    path.switches()
        .forEach(
            (id, position) -> {
              if (!written.contains(id)) {
                problems.add(
                    place,
                    "the way from %s to %s runs over switch %s, and the row does not say how it lies"
                        .formatted(path.from(), path.to(), id),
                    "add '%s: %s' under switches".formatted(id, position.word()));
              }
            });
  }

  private void notePosition(YamlNode.Text id, Position position, RoutePath path) {
    Position needed = path.switches().get(id.value());
    if (needed == null && numbers.noteSprungOnTheWay(id, path)) {
      return;
    }
    if (needed == null) {
      problems.add(
          id.place(),
          "switch %s is not on the way from %s to %s".formatted(id.value(), path.from(), path.to()),
          "move it under flank if it keeps others away");
    } else if (needed != position) {
      problems.add(
          id.place(),
          "with switch %s %s one does not come to %s"
              .formatted(id.value(), position.word(), path.to()),
          "write '%s: %s'".formatted(id.value(), needed.word()));
    }
  }

  private void checkLists(RoutePath path, WrittenRow row) {
    if (row.listsWhatIsClear()) {
      path.sections().stream()
          .filter(section -> !WrittenRow.values(row.sections()).contains(section))
          .forEach(section -> noteUnlisted(section, path, row));
    }
    row.flank().keySet().stream()
        .filter(id -> path.switches().containsKey(id.value()))
        .forEach(id -> noteFlankOnTheWay(id, path));
    row.overlap().ifPresent(overlap -> checkOverlap(overlap, path, row));
    if (row.callOn().isPresent() && path.sections().size() == 1) {
      noteCallOnToTheSignal(path, row);
    }
    row.approachSections().stream()
        .filter(section -> path.sections().contains(section.value()))
        .forEach(section -> noteApproachBeyond(section, path));
  }

  private void checkOverlap(Overlap overlap, RoutePath path, WrittenRow row) {
    overlap.clear().stream()
        .filter(path.sections()::contains)
        .forEach(section -> noteOverlapOnTheWay(section, path, row));
    numbers.checkOverlap(overlap, row, path);
  }

  private static void noteUnlisted(String section, RoutePath path, WrittenRow row) {
    row.clear()
        .note(
            "the way from %s to %s runs over section %s, which is not listed"
                .formatted(path.from(), path.to(), section),
            "add '%s' to clear".formatted(section));
  }

  private void noteFlankOnTheWay(YamlNode.Text id, RoutePath path) {
    problems.add(
        id.place(),
        "switch %s is on the way from %s to %s".formatted(id.value(), path.from(), path.to()),
        "a switch under flank lies off the way; take it out here");
  }

  private void noteOverlapOnTheWay(String section, RoutePath path, WrittenRow row) {
    problems.add(
        row.place(),
        "section %s of the overlap is on the way from %s to %s"
            .formatted(section, path.from(), path.to()),
        "an overlap lies beyond the end; take it out here");
  }

  /** The signal would fall before the train that is called on has passed it. */
  private void noteCallOnToTheSignal(RoutePath path, WrittenRow row) {
    problems.add(
        row.place(),
        "the only section from %s to %s is the one that may be occupied"
            .formatted(path.from(), path.to()),
        "a train is called on over a section of its own, such as that of a switch");
  }

  private void noteApproachBeyond(YamlNode.Text section, RoutePath path) {
    problems.add(
        section.place(),
        "section %s lies beyond the signal and cannot be its approach".formatted(section.value()),
        "list the sections before %s".formatted(path.from()));
  }

  /**
   * A train that stands right before the signal has seen it from nearer than any other; were its
   * section forgotten, the route could be released under its wheels.
   */
  private void noteMissingApproach(WrittenRow row) {
    Signal signal = layout.signals().get(row.from().orElseThrow().value());
    List<String> listed = WrittenRow.values(row.approachSections());
    plan.tracksAt(signal.at()).stream()
        .filter(track -> leadsInto(signal, track))
        .map(Track::section)
        .filter(section -> !listed.contains(section))
        .distinct()
        .forEach(
            section ->
                row.approach()
                    .note(
                        "a train before %s stands in section %s, which is not listed"
                            .formatted(signal.id(), section),
                        "add '%s' to approach".formatted(section)));
  }

  private boolean leadsInto(Signal signal, Track arrival) {
    return plan.onwards(arrival, signal.at()).stream()
        .anyMatch(track -> track.section().equals(signal.into()));
  }
}
