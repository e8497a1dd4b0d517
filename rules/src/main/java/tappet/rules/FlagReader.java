package tappet.rules;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Track;
import tappet.layout.TrackPlan;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads which switches lead away from sections under a blue flag. */
final class FlagReader {

  private final Layout layout;
  private final Optional<TrackPlan> plan;
  private final Problems problems;
  private final Declared declared;

  /**
   * @param plan the track plan; empty where it is not known to be right
   */
  FlagReader(Layout layout, Optional<TrackPlan> plan, Problems problems) {
    this.layout = layout;
    this.plan = plan;
    this.problems = problems;
    this.declared = new Declared(problems);
  }

  List<FlagRow> rows(Value flags) {
    List<FlagRow> rows = new ArrayList<>();
    for (Value item : flags.items()) {
      item.called("the flag", "{section: a, switches: {b: normal}}")
          .read(this::row)
          .flatMap(row -> row)
          .filter(row -> isTheOnlyOne(row, rows))
          .ifPresent(rows::add);
    }
    return rows;
  }

  private Optional<FlagRow> row(Fields fields) {
    Optional<String> section =
        declared
            .name(fields.required("section", "creamery"), "section", layout.sections().keySet())
            .map(YamlNode.Text::value);
    Value written = fields.required("switches", "{c3: normal}");
    Map<YamlNode.Text, Position> positions =
        declared.positions(written, layout.switches().keySet());
    if (positions.size() == written.named().size()) {
      section.ifPresent(id -> checkAgainstPlan(id, WrittenRow.byId(positions), fields));
    }
    return section.map(id -> new FlagRow(id, WrittenRow.byId(positions), fields.place()));
  }

  /** A switch beside the section that leads into it, or is left out, protects nobody. */
  private void checkAgainstPlan(String section, Map<String, Position> written, Fields fields) {
    List<Track.Leg> away = plan.map(known -> LinedAway.from(section, known)).orElse(List.of());
    for (Track.Leg leg : away) {
      boolean canLeadAway = !away.contains(opposite(leg));
      if (canLeadAway && written.get(leg.switchId()) != leg.position()) {
        note(section, leg, written.containsKey(leg.switchId()), fields);
      }
    }
  }

  private void note(String section, Track.Leg away, boolean isWritten, Fields fields) {
    String toe = away.switchId();
    String position = away.position().word();
    problems.add(
        fields.place(),
        isWritten
            ? "switch %s %s leads into section %s"
                .formatted(toe, away.position().opposite().word(), section)
            : "switch %s leads into section %s and is left out".formatted(toe, section),
        "write '%s: %s'".formatted(toe, position));
  }

  private boolean isTheOnlyOne(FlagRow row, List<FlagRow> before) {
    Optional<FlagRow> other =
        before.stream().filter(earlier -> earlier.section().equals(row.section())).findFirst();
    other.ifPresent(
        earlier ->
            problems.add(
                row.place(),
                "the flag of section %s stands in line %d already"
                    .formatted(row.section(), earlier.place().line()),
                "put its switches there"));
    return other.isEmpty();
  }

  private static Track.Leg opposite(Track.Leg leg) {
    return new Track.Leg(leg.switchId(), leg.position().opposite());
  }
}
