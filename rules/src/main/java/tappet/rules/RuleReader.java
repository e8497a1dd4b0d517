package tappet.rules;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;

/** Reads a rule file against the layout it is for. */
public final class RuleReader {

  private static final String VERSION = "1";
  private static final Duration LOSS_OF_SHUNT = Duration.ofSeconds(2);
  private static final Duration START_MIN = Duration.ofSeconds(1);

  /** Nobody waits longer on a model railway; more is a slip of the pen. */
  private static final Duration TIME_MAX = Duration.ofHours(24);

  private final Layout layout;
  private final Optional<RowOnPlan> plan;
  private final Problems problems;
  private final ConditionReader conditions;

  private RuleReader(Layout layout, Optional<RowOnPlan> plan, Problems problems) {
    this.layout = layout;
    this.plan = plan;
    this.problems = problems;
    this.conditions = new ConditionReader(layout, problems);
  }

  /**
   * Reads a rule file.
   *
   * @param file its name as the owner gave it
   * @param text what stands in it
   * @param layout read without a mistake
   * @return the control table; empty if anything was wrong, all of which is then in {@code
   *     problems}
   */
  public static Optional<ControlTable> read(
      String file, String text, Layout layout, Problems problems) {
    int before = problems.sorted().size();
    TrackPlan track = new TrackPlan(layout);
    Optional<RowOnPlan> plan = Optional.of(new RowOnPlan(track, problems));
    Optional<ControlTable> table =
        Value.ofFile("the rule file", file, text, problems)
            .read(new RuleReader(layout, plan, problems)::table);
    if (table.isPresent() && problems.sorted().size() == before) {
      new TableCheck(layout, table.get(), problems).check();
      new TrafficCheck(track, table.get(), problems).check();
    }
    return problems.sorted().size() == before ? table : Optional.empty();
  }

  /**
   * Notes what is wrong with a rule file whose layout has mistakes of its own: everything but what
   * depends on the track plan.
   *
   * @param outline the layout as far as it could be read
   */
  public static void check(String file, String text, Layout outline, Problems problems) {
    var unused =
        Value.ofFile("the rule file", file, text, problems)
            .read(new RuleReader(outline, Optional.empty(), problems)::table);
  }

  private ControlTable table(Fields file) {
    version(file.required("rules", VERSION));
    Value times = file.optional("times", "{loss of shunt: 2 s, start: 12 s}");
    Value routes = file.required("routes", "[{from: a, to: b, ...}]");
    Value aspects = file.required("aspects", "{main: {beyond stop: approach}}");
    Value traffic = file.optional("traffic", "[{line: midway, sections: [mid-west]}]");
    Value also = file.optional("also", "[{signal: a, needs: section b is clear}]");
    Value locks = file.optional("locks", "[{switch: quarry, release time: 8 s}]");

    Value lights = file.optional("lights", "[" + LightReader.EXAMPLE + "]");
    Value flags = file.optional("flags", "[{section: creamery, switches: {c3: normal}}]");

    Map<String, AspectLadder> ladders = ladders(aspects);
    RouteRowReader reader =
        new RouteRowReader(layout, plan, ladders.keySet(), conditions, problems);
    Map<String, RouteRow> rows = rows(routes, reader);
    List<OwnersNeed> needs = needs(also);
    LinesideTable lineside = lineside(file, rows, reader);
    Map<String, SignalLight> lit = new LightReader(layout, conditions, problems).lights(lights);
    conditions.checkRoutes(reader.idsWritten());
    Map<String, TrafficLine> lines = new TrafficReader(layout, problems).lines(traffic);
    conditions.checkLines(lines.keySet());
    return new ControlTable(
        times(times, rows),
        rows,
        ladders,
        lines,
        needs,
        lit,
        lineside,
        locks(locks, file.place()),
        new FlagReader(layout, plan.map(RowOnPlan::plan), problems).rows(flags));
  }

  private void version(Value version) {
    version
        .text()
        .filter(text -> !text.value().equals(VERSION))
        .ifPresent(
            text ->
                version.note(
                    "version %s of rule files is not known".formatted(text.shown()),
                    "write 'rules: %s'".formatted(VERSION)));
  }

  private Map<String, AspectLadder> ladders(Value aspects) {
    Map<String, AspectLadder> ladders = new LinkedHashMap<>();
    for (Value.Named speed : aspects.named()) {
      if (Value.isIdentifier(speed.key(), problems)) {
        ladders.put(speed.key().value(), LadderReader.read(speed, problems));
      }
    }
    return ladders;
  }

  private Map<String, RouteRow> rows(Value routes, RouteRowReader reader) {
    Map<String, RouteRow> rows = new LinkedHashMap<>();
    for (Value item : routes.items()) {
      item.called("the route", "{from: a, to: b, ...}")
          .read(reader::row)
          .flatMap(row -> row)
          .ifPresent(row -> add(row, rows));
    }
    rows.values().forEach(row -> checkConflicts(row, reader.idsWritten()));
    return rows;
  }

  private void add(RouteRow row, Map<String, RouteRow> rows) {
    RouteRow other = rows.putIfAbsent(row.id(), row);
    if (other != null) {
      problems.add(
          row.place(),
          "a route named '%s' stands in line %d already".formatted(row.id(), other.place().line()),
          "give this one another name, for example 'name: " + row.id() + "-2'");
    }
  }

  private void checkConflicts(RouteRow row, Collection<String> routes) {
    for (String other : row.conflicts()) {
      if (!routes.contains(other)) {
        problems.add(
            row.place(),
            "route '%s' is not to be set with '%s', which is no route".formatted(row.id(), other),
            NearNames.meant(other, routes, "write the route's row first"));
      }
    }
  }

  private Times times(Value times, Map<String, RouteRow> rows) {
    Duration longestRelease =
        rows.values().stream()
            .map(RouteRow::release)
            .filter(release -> !release.isZero())
            .max(Duration::compareTo)
            .orElse(START_MIN);
    return times
        .read(
            fields ->
                new Times(
                    aboveZero(fields.optional("loss of shunt", "2 s")).orElse(LOSS_OF_SHUNT),
                    start(fields.optional("start", "12 s"), rows).orElse(longestRelease)))
        .orElse(new Times(LOSS_OF_SHUNT, longestRelease));
  }

  /** A start is as good as a cancelling of every route: no shorter than any of their times. */
  private static Optional<Duration> start(Value value, Map<String, RouteRow> rows) {
    Optional<Duration> start = aboveZero(value);
    rows.values().stream()
        .filter(row -> start.isPresent() && row.release().compareTo(start.get()) > 0)
        .findFirst()
        .ifPresent(
            row ->
                value.note(
                    "the start time is shorter than the release time of route %s in line %d"
                        .formatted(row.id(), row.place().line()),
                    "a train may have accepted its signal before the start; give it that time"));
    return start;
  }

  private Map<String, LockRule> locks(Value written, Place rules) {
    LockReader reader = new LockReader(layout, problems);
    Map<String, LockRule> locks = reader.locks(written);
    if (plan.isPresent()) {
      reader.checkNoneIsMissing(rules);
    }
    return locks;
  }

  private List<OwnersNeed> needs(Value also) {
    List<OwnersNeed> needs = new ArrayList<>();
    for (Value item : also.items()) {
      item.called("the entry", "{signal: a, needs: section b is clear}")
          .read(this::need)
          .flatMap(need -> need)
          .ifPresent(needs::add);
    }
    return needs;
  }

  private Optional<OwnersNeed> need(Fields fields) {
    OwnersNeed.Of of = subject(fields);
    var device =
        new Declared(problems).name(fields.required(of.word(), "t2e"), of.word(), devices(of));
    var condition = conditions.read(fields.required("needs", "section tilling-w is clear"));
    return device.flatMap(
        id -> condition.map(needed -> new OwnersNeed(of, id.value(), needed, fields.place())));
  }

  /** Of what the entry speaks: a signal, where it says nothing else. */
  private static OwnersNeed.Of subject(Fields fields) {
    return Stream.of(OwnersNeed.Of.SWITCH, OwnersNeed.Of.LOCK)
        .filter(of -> fields.optional(of.word(), "t1").present())
        .findFirst()
        .orElse(OwnersNeed.Of.SIGNAL);
  }

  private Set<String> devices(OwnersNeed.Of of) {
    return switch (of) {
      case SIGNAL -> layout.signals().keySet();
      case SWITCH -> layout.switches().keySet();
      case LOCK ->
          layout.switches().values().stream()
              .filter(toe -> toe.lock().isPresent())
              .map(Switch::id)
              .collect(Collectors.toCollection(LinkedHashSet::new));
    };
  }

  private LinesideTable lineside(Fields file, Map<String, RouteRow> rows, RouteRowReader reader) {
    var crossings =
        new CrossingReader(layout, plan.map(RowOnPlan::plan), rows, reader.idsWritten(), problems);
    return new LinesideRuleReader(layout, rows, conditions, problems).read(file, crossings);
  }

  static Optional<Duration> aboveZero(Value value) {
    Optional<Duration> duration = value.duration();
    if (duration.isPresent() && (duration.get().isZero() || duration.get().isNegative())) {
      value.note("a time must be above 0", "write for example '2 s'");
      return Optional.empty();
    }
    if (duration.filter(time -> time.compareTo(TIME_MAX) > 0).isPresent()) {
      value.note("a time must be at most 24 h", "write for example '2 s'");
      return Optional.empty();
    }
    return duration;
  }
}
