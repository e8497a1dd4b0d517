package tappet.rules;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Layout;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads how electric locks are released: {@code locks: [{switch: quarry, release time: 8 s}]}. */
final class LockReader {

  private static final String EXAMPLE = "{switch: quarry, release time: 8 s}";

  private final Layout layout;
  private final Problems problems;
  private final Declared declared;
  private final Map<String, LockRule> read = new LinkedHashMap<>();
  private final Set<String> switchesWritten = new LinkedHashSet<>();

  LockReader(Layout layout, Problems problems) {
    this.layout = layout;
    this.problems = problems;
    this.declared = new Declared(problems);
  }

  /** The rows by switch. */
  Map<String, LockRule> locks(Value written) {
    for (Value item : written.items()) {
      item.called("the lock", EXAMPLE).read(this::row).flatMap(row -> row).ifPresent(this::add);
    }
    return read;
  }

  /** Every electric lock needs its row; a lock without one could never be released. */
  void checkNoneIsMissing(Place rules) {
    layout.switches().values().stream()
        .filter(toe -> toe.lock().isPresent() && !switchesWritten.contains(toe.id()))
        .forEach(
            toe ->
                problems.add(
                    rules,
                    "switch '%s' has an electric lock, and 'locks' does not say how it is released"
                        .formatted(toe.id()),
                    "add under locks: {switch: %s, release time: 8 s}".formatted(toe.id())));
  }

  private void add(LockRule row) {
    LockRule other = read.putIfAbsent(row.switchId(), row);
    if (other != null) {
      problems.add(
          row.place(),
          "the lock of switch '%s' stands in line %d already"
              .formatted(row.switchId(), other.place().line()),
          "write one row for each lock");
    }
  }

  private Optional<LockRule> row(Fields fields) {
    var toe =
        declared
            .name(fields.required("switch", "quarry"), "switch", layout.switches().keySet())
            .filter(this::hasLock);
    toe.map(YamlNode.Text::value).ifPresent(switchesWritten::add);
    var time = RuleReader.aboveZero(fields.required("release time", "8 s"));
    Value section = fields.optional("release section", "quarry-track");
    Value approach = fields.optional("approach", "[west-main, east-main]");
    Set<String> sections = layout.sections().keySet();
    var release = declared.name(section, "section", sections).map(YamlNode.Text::value);
    if (!approach.present()) {
      release.ifPresent(name -> noteUnexplained(name, section));
    }
    toe.ifPresent(id -> release.ifPresent(name -> checkIsAtTheSwitch(id.value(), name, section)));
    List<String> from = WrittenRow.values(declared.names(approach, "section", sections));
    return toe.flatMap(
        id -> time.map(above -> new LockRule(id.value(), above, release, from, fields.place())));
  }

  /** 49 CFR 236.16: nothing else may be in the approach. */
  private static void noteUnexplained(String section, Value written) {
    written.note(
        "a train on section %s may be another than the one that comes".formatted(section),
        "list the sections of the approach: 'approach: [west-main, east-main]'");
  }

  private boolean hasLock(YamlNode.Text name) {
    boolean locked = layout.switches().get(name.value()).lock().isPresent();
    if (!locked) {
      problems.add(
          name.place(),
          "switch %s has no electric lock".formatted(name.shown()),
          NearNames.meant(
              name.value(),
              layout.switches().values().stream()
                  .filter(toe -> toe.lock().isPresent())
                  .map(Switch::id)
                  .toList(),
              "write 'control: released' in the layout file"));
    }
    return locked;
  }

  /** 49 CFR 236.16: a train on the siding must not be able to occupy it. */
  private void checkIsAtTheSwitch(String id, String section, Value written) {
    Set<String> good = sectionsOnTheMain(layout.switches().get(id));
    if (!good.contains(section)) {
      written.note(
          "a train on section %s does not stand on the main track at switch %s"
              .formatted(section, id),
          "a release section is %s".formatted(NearNames.oneOf(good)));
    }
  }

  private Set<String> sectionsOnTheMain(Switch toe) {
    TrackPlan plan = new TrackPlan(layout);
    Set<String> sections = new LinkedHashSet<>(Set.of(toe.section()));
    List.of(toe.points(), toe.normal())
        .forEach(joint -> plan.tracksAt(joint).stream().map(Track::section).forEach(sections::add));
    return sections;
  }
}
