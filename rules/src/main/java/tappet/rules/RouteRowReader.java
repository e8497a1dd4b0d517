package tappet.rules;

import java.time.Duration;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.sentence.Condition;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads one row of the control table. */
final class RouteRowReader {

  private final Layout layout;
  private final Optional<RowOnPlan> plan;
  private final Collection<String> speeds;
  private final ConditionReader conditions;
  private final Declared declared;
  private final Repeaters repeaters;

  /** The ids of all rows, also of those that a mistake leaves out. */
  private final Set<String> idsWritten = new LinkedHashSet<>();

  /**
   * @param plan holds rows against the track plan; empty where that is not known to be right
   */
  RouteRowReader(
      Layout layout,
      Optional<RowOnPlan> plan,
      Collection<String> speeds,
      ConditionReader conditions,
      Problems problems) {
    this.layout = layout;
    this.plan = plan;
    this.speeds = speeds;
    this.conditions = conditions;
    this.declared = new Declared(problems);
    this.repeaters = new Repeaters(layout, problems);
  }

  /** The ids of the rows so far: what others may name without a second message. */
  Set<String> idsWritten() {
    return idsWritten;
  }

  /** The row, or empty where a mistake leaves nothing to go on with. */
  Optional<RouteRow> row(Fields fields) {
    WrittenRow written = written(fields);
    written.id().ifPresent(idsWritten::add);
    if (written.from().isEmpty() || written.to().isEmpty()) {
      return Optional.empty();
    }
    if (repeaters.isNamed(written.from()) || repeaters.isNamed(written.to())) {
      return Optional.empty();
    }
    return plan.flatMap(checks -> checks.path(written)).flatMap(path -> rowOn(path, written));
  }

  private Optional<RouteRow> rowOn(RoutePath path, WrittenRow written) {
    return written.on(path, Optional.of(path.to()).filter(to -> layout.signals().containsKey(to)));
  }

  private WrittenRow written(Fields fields) {
    Set<String> sections = layout.sections().keySet();
    Set<String> switches = layout.switches().keySet();
    Optional<YamlNode.Text> name = fields.optional("name", "t2e-t4e").identifier();
    Value from = fields.required("from", "t2e");
    Value to = fields.required("to", "t4e");
    Value positions = fields.optional("switches", "{t1: normal}");
    Value clear = fields.optional("clear", "[tilling-w, tilling-main]");
    Value flank = fields.optional("flank", "{t3: normal}");
    Value approach = fields.optional("approach", "[west-main]");
    boolean automatic = fields.optional("automatic", "yes").yesOrNo().orElse(false);
    return new WrittenRow(
        fields.place(),
        id(name, from, to),
        declared.name(from, "signal", layout.signals().keySet()),
        to.text(),
        positions,
        declared.positions(positions, switches),
        clear,
        declared.names(clear, "section", sections),
        declared.positions(flank, switches),
        fields.required("speed", "main").word(speeds).map(YamlNode.Text::value),
        release(automatic, fields),
        approach,
        declared.names(approach, "section", sections),
        conflicts(fields.optional("not with", "[t8w-t4w]")),
        overlap(fields.optional("overlap", "{clear: [tilling-e], time: 8 s}")),
        callOn(fields.optional("call on", "restricting")),
        automatic,
        needs(fields.optional("needs", "section tilling-w is clear")));
  }

  private static Optional<String> id(Optional<YamlNode.Text> name, Value from, Value to) {
    Optional<String> start = from.text().map(YamlNode.Text::value);
    Optional<String> end = to.text().map(YamlNode.Text::value);
    return name.map(YamlNode.Text::value)
        .or(() -> start.flatMap(first -> end.map(last -> first + "-" + last)));
  }

  private static List<String> conflicts(Value written) {
    return written.items().stream()
        .flatMap(item -> item.text().stream())
        .map(YamlNode.Text::value)
        .toList();
  }

  private static Optional<String> callOn(Value written) {
    Optional<String> aspect = written.identifier().map(YamlNode.Text::value);
    if (aspect.equals(Optional.of(Signal.STOP))) {
      written.note("no train is called on by stop", "write for example 'restricting'");
    }
    return aspect;
  }

  /** Nobody cancels an automatic signal, so no time runs for it. */
  private static Optional<Duration> release(boolean automatic, Fields fields) {
    if (!automatic) {
      return RuleReader.aboveZero(fields.required("release", "12 s"));
    }
    Value release = fields.optional("release", "12 s");
    if (release.present()) {
      release.note("an automatic route is never cancelled", "take the release time out");
    }
    return Optional.of(Duration.ZERO);
  }

  private Optional<Overlap> overlap(Value written) {
    return written.present() ? written.read(this::overlap).flatMap(read -> read) : Optional.empty();
  }

  private Optional<Overlap> overlap(Fields fields) {
    var clear =
        declared.names(
            fields.required("clear", "[tilling-e]"), "section", layout.sections().keySet());
    var switches =
        declared.positions(fields.optional("switches", "{t2: normal}"), layout.switches().keySet());
    return RuleReader.aboveZero(fields.required("time", "8 s"))
        .map(time -> new Overlap(WrittenRow.values(clear), WrittenRow.byId(switches), time));
  }

  private Optional<Condition> needs(Value written) {
    return written.present() ? conditions.read(written) : Optional.empty();
  }
}
