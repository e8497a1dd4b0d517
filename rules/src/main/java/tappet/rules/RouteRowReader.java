package tappet.rules;

import java.time.Duration;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
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
import tappet.sentence.Condition;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads one row of the control table and holds it against the track plan. */
final class RouteRowReader {

  private final TrackPlan plan;
  private final Layout layout;
  private final Collection<String> speeds;
  private final ConditionReader conditions;
  private final Problems problems;
  private final Declared declared;

  /** The ids of all rows, also of those that a mistake leaves out. */
  private final Set<String> idsWritten = new LinkedHashSet<>();

  RouteRowReader(
      TrackPlan plan, Collection<String> speeds, ConditionReader conditions, Problems problems) {
    this.plan = plan;
    this.layout = plan.layout();
    this.speeds = speeds;
    this.conditions = conditions;
    this.problems = problems;
    this.declared = new Declared(problems);
  }

  /** The ids of the rows so far: what others may name without a second message. */
  Set<String> idsWritten() {
    return idsWritten;
  }

  /** The row, or empty where a mistake leaves nothing to go on with. */
  Optional<RouteRow> row(Fields fields) {
    Optional<YamlNode.Text> name = fields.optional("name", "t2e-t4e").identifier();
    var from = declared.name(fields.required("from", "t2e"), "signal", layout.signals().keySet());
    var to = fields.required("to", "t4e").text();
    Value switches = fields.optional("switches", "{t1: normal}");
    var positions = declared.positions(switches, layout.switches().keySet());
    Value clear = fields.optional("clear", "[tilling-w, tilling-main]");
    var sections = declared.names(clear, "section", layout.sections().keySet());
    Value flankValue = fields.optional("flank", "{t3: normal}");
    var flank = declared.positions(flankValue, layout.switches().keySet());
    Optional<YamlNode.Text> speed = fields.required("speed", "main").word(speeds);
    Optional<Duration> release = RuleReader.aboveZero(fields.required("release", "12 s"));
    Value approachValue = fields.optional("approach", "[west-main]");
    var approach = declared.names(approachValue, "section", layout.sections().keySet());
    Value conflicts = fields.optional("not with", "[t8w-t4w]");
    Value needs = fields.optional("needs", "section tilling-w is clear");
    Optional<Condition> condition = needs.present() ? conditions.read(needs) : Optional.empty();

    Optional<String> id = id(name, fields);
    id.ifPresent(idsWritten::add);
    if (from.isEmpty() || to.isEmpty()) {
      return Optional.empty();
    }
    Optional<RoutePath> path = path(from.get(), to.get(), switches, positions);
    path.ifPresent(found -> checkLists(found, clear, sections, flank, approach));
    if (!approach.isEmpty() && approach.size() == approachValue.items().size()) {
      noteMissingApproach(from.get().value(), approachValue, values(approach));
    }
    if (path.isEmpty() || speed.isEmpty() || release.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new RouteRow(
            id.get(),
            from.get().value(),
            to.get().value(),
            to.map(YamlNode.Text::value).filter(layout.signals()::containsKey),
            path.get().sections(),
            values(sections).stream().filter(s -> !path.get().sections().contains(s)).toList(),
            path.get().switches(),
            byId(flank),
            speed.get().value(),
            release.get(),
            values(approach),
            conflicts.items().stream()
                .flatMap(item -> item.text().stream())
                .map(YamlNode.Text::value)
                .toList(),
            condition,
            fields.place()));
  }

  private static Optional<String> id(Optional<YamlNode.Text> name, Fields fields) {
    Optional<String> from = fields.required("from", "t2e").text().map(YamlNode.Text::value);
    Optional<String> to = fields.required("to", "t4e").text().map(YamlNode.Text::value);
    return name.map(YamlNode.Text::value)
        .or(() -> from.flatMap(start -> to.map(end -> start + "-" + end)));
  }

  private Optional<RoutePath> path(
      YamlNode.Text from,
      YamlNode.Text to,
      Value switches,
      Map<YamlNode.Text, Position> positions) {
    Signal signal = layout.signals().get(from.value());
    List<RoutePath> thither = RouteFinder.pathsBetween(signal, to.value(), plan);
    if (thither.isEmpty()) {
      noteNoPath(from, to, RouteFinder.pathsFrom(signal, plan));
      return Optional.empty();
    }
    Map<String, Position> wanted = byId(positions);
    RoutePath nearest = nearest(thither, wanted);
    if (positions.size() == switches.named().size()) {
      noteMissing(from, to, nearest, switches, wanted);
    }
    positions.forEach((id, position) -> notePosition(id, position, nearest, to));
    return wanted.equals(nearest.switches()) ? Optional.of(nearest) : Optional.empty();
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

  private void noteMissing(
      YamlNode.Text from,
      YamlNode.Text to,
      RoutePath path,
      Value switches,
      Map<String, Position> wanted) {
    path.switches()
        .forEach(
            (id, position) -> {
              if (!wanted.containsKey(id)) {
                problems.add(
                    switches.present() ? switches.place() : from.place(),
                    "the way from %s to %s runs over switch %s, and the row does not say how it lies"
                        .formatted(from.value(), to.value(), id),
                    "add '%s: %s' under switches".formatted(id, position.word()));
              }
            });
  }

  private void notePosition(YamlNode.Text id, Position position, RoutePath path, YamlNode.Text to) {
    Position needed = path.switches().get(id.value());
    if (needed == null) {
      problems.add(
          id.place(),
          "switch %s is not on the way from %s to %s".formatted(id.value(), path.from(), path.to()),
          "move it under flank if it keeps others away");
    } else if (needed != position) {
      problems.add(
          id.place(),
          "with switch %s %s one does not come to %s"
              .formatted(id.value(), position.word(), to.value()),
          "write '%s: %s'".formatted(id.value(), needed.word()));
    }
  }

  private void checkLists(
      RoutePath path,
      Value clear,
      List<YamlNode.Text> sections,
      Map<YamlNode.Text, Position> flank,
      List<YamlNode.Text> approach) {
    if (clear.present() && sections.size() == clear.items().size()) {
      Set<String> listed = new HashSet<>(values(sections));
      path.sections().stream()
          .filter(section -> !listed.contains(section))
          .forEach(
              section ->
                  clear.note(
                      "the way from %s to %s runs over section %s, which is not listed"
                          .formatted(path.from(), path.to(), section),
                      "add '%s' to clear".formatted(section)));
    }
    flank.keySet().stream()
        .filter(id -> path.switches().containsKey(id.value()))
        .forEach(
            id ->
                problems.add(
                    id.place(),
                    "switch %s is on the way from %s to %s"
                        .formatted(id.value(), path.from(), path.to()),
                    "a switch under flank lies off the way; take it out here"));
    approach.stream()
        .filter(section -> path.sections().contains(section.value()))
        .forEach(
            section ->
                problems.add(
                    section.place(),
                    "section %s lies beyond the signal and cannot be its approach"
                        .formatted(section.value()),
                    "list the sections before %s".formatted(path.from())));
  }

  /**
   * A train that stands right before the signal has seen it from nearer than any other; were its
   * section forgotten, the route could be released under its wheels.
   */
  private void noteMissingApproach(String from, Value approach, List<String> listed) {
    Signal signal = layout.signals().get(from);
    plan.tracksAt(signal.at()).stream()
        .filter(track -> leadsInto(signal, track))
        .map(Track::section)
        .filter(section -> !listed.contains(section))
        .distinct()
        .forEach(
            section ->
                approach.note(
                    "a train before %s stands in section %s, which is not listed"
                        .formatted(from, section),
                    "add '%s' to approach".formatted(section)));
  }

  private boolean leadsInto(Signal signal, Track arrival) {
    return plan.onwards(arrival, signal.at()).stream()
        .anyMatch(track -> track.section().equals(signal.into()));
  }

  private static List<String> values(List<YamlNode.Text> texts) {
    return texts.stream().map(YamlNode.Text::value).toList();
  }

  private static Map<String, Position> byId(Map<YamlNode.Text, Position> positions) {
    Map<String, Position> byId = new LinkedHashMap<>();
    positions.forEach((id, position) -> byId.put(id.value(), position));
    return byId;
  }
}
