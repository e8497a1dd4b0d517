package tappet.rules;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Position;
import tappet.sentence.Condition;
import tappet.source.Place;
import tappet.source.Value;
import tappet.source.YamlNode;

/**
 * A row as it was written: names that are declared, with their places, and not yet held against the
 * track plan.
 *
 * @param clear the list itself, for what is missing in it; likewise {@code switches} and {@code
 *     approach}
 */
record WrittenRow(
    Place place,
    Optional<String> id,
    Optional<YamlNode.Text> from,
    Optional<YamlNode.Text> to,
    Value switches,
    Map<YamlNode.Text, Position> positions,
    Value clear,
    List<YamlNode.Text> sections,
    Map<YamlNode.Text, Position> flank,
    Optional<String> speed,
    Optional<Duration> release,
    Value approach,
    List<YamlNode.Text> approachSections,
    List<String> conflicts,
    Optional<Overlap> overlap,
    Optional<String> callOn,
    boolean automatic,
    Optional<Condition> needs) {

  /** Whether every switch under {@code switches} could be read. */
  boolean hasAllPositions() {
    return positions.size() == switches.named().size();
  }

  /** Whether there is a list {@code clear} and all of it could be read. */
  boolean listsWhatIsClear() {
    return clear.present() && sections.size() == clear.items().size();
  }

  /** Whether there is a list {@code approach} and all of it could be read. */
  boolean listsItsApproach() {
    return !approachSections.isEmpty() && approachSections.size() == approach.items().size();
  }

  /** The row of the control table; empty where something it needs could not be read. */
  Optional<RouteRow> on(RoutePath path, Optional<String> nextSignal) {
    if (id.isEmpty() || speed.isEmpty() || release.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(
        new RouteRow(
            id.get(),
            path.from(),
            path.to(),
            nextSignal,
            path.sections(),
            offTheWay(path),
            path.switches(),
            besideTheWay(),
            speed.get(),
            release.get(),
            values(approachSections),
            conflicts,
            overlap,
            callOn,
            automatic,
            needs,
            place));
  }

  /**
   * Sections that must be clear besides those of the way: fouling ones and those of the overlap.
   */
  private List<String> offTheWay(RoutePath path) {
    Set<String> sections = new LinkedHashSet<>(values(this.sections));
    overlap.ifPresent(beyond -> sections.addAll(beyond.clear()));
    return sections.stream().filter(id -> !path.sections().contains(id)).toList();
  }

  /**
   * Switches that are locked with the whole route: those that keep others away, and the overlap's.
   */
  private Map<String, Position> besideTheWay() {
    Map<String, Position> beside = byId(flank);
    overlap.ifPresent(beyond -> beside.putAll(beyond.switches()));
    return beside;
  }

  /** Names without their places. */
  static List<String> values(List<YamlNode.Text> texts) {
    return texts.stream().map(YamlNode.Text::value).toList();
  }

  /** Positions by the switch's id, without places. */
  static Map<String, Position> byId(Map<YamlNode.Text, Position> positions) {
    Map<String, Position> byId = new LinkedHashMap<>();
    positions.forEach((id, position) -> byId.put(id.value(), position));
    return byId;
  }
}
