package tappet.rules;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.source.Problems;
import tappet.source.YamlNode;

/** Holds the switches of a row against how they are worked: together with others, or sprung. */
final class Numbers {

  private final Layout layout;
  private final Problems problems;

  Numbers(Layout layout, Problems problems) {
    this.layout = layout;
    this.problems = problems;
  }

  /** Positions by switch, with the other ends of what moves together: one end counts for all. */
  Map<String, Position> withOtherEnds(Map<YamlNode.Text, Position> written) {
    Map<String, Position> all = new LinkedHashMap<>();
    written.forEach((id, position) -> ends(id).forEach(end -> all.put(end.id(), position)));
    written.forEach((id, position) -> all.put(id.value(), position));
    return all;
  }

  /** Notes where a row wants the ends of one crossover apart, on its way or beside it. */
  void check(WrittenRow row) {
    Map<String, YamlNode.Text> first = new LinkedHashMap<>();
    Map<String, Position> wanted = new LinkedHashMap<>();
    Stream.concat(row.positions().entrySet().stream(), row.flank().entrySet().stream())
        .forEach(
            entry -> {
              String number = number(entry.getKey().value());
              YamlNode.Text other = first.putIfAbsent(number, entry.getKey());
              Position before = wanted.putIfAbsent(number, entry.getValue());
              if (before != null && before != entry.getValue()) {
                noteApart(entry.getKey(), other, before);
              }
            });
  }

  /**
   * Notes where the overlap of a row wants a switch otherwise than its way or what is beside it.
   */
  void checkOverlap(Overlap overlap, WrittenRow row, RoutePath path) {
    Map<String, Position> wanted = new LinkedHashMap<>();
    path.switches().forEach((id, position) -> wanted.put(number(id), position));
    row.flank().forEach((id, position) -> wanted.put(number(id.value()), position));
    overlap
        .switches()
        .forEach(
            (id, position) -> {
              Position before = wanted.putIfAbsent(number(id), position);
              if (before != null && before != position) {
                noteOverlapApart(id, before, row);
              }
            });
  }

  private void noteOverlapApart(String id, Position before, WrittenRow row) {
    problems.add(
        row.place(),
        "the overlap wants switch %s otherwise than the way and its flank want it".formatted(id),
        "write '%s: %s' in the overlap, or leave it out there".formatted(id, before.word()));
  }

  private void noteApart(YamlNode.Text id, YamlNode.Text other, Position position) {
    problems.add(
        id.place(),
        "switches %s and %s move together and cannot lie apart"
            .formatted(other.value(), id.value()),
        "write '%s: %s', or leave it out".formatted(id.value(), position.word()));
  }

  /** Whether a switch is sprung and on the way, opened by the train itself; notes it. */
  boolean noteSprungOnTheWay(YamlNode.Text id, RoutePath path) {
    Switch toe = toe(id);
    boolean sprung = toe.springsFor(Position.REVERSE) && path.sections().contains(toe.section());
    if (sprung) {
      problems.add(
          id.place(),
          "the way from %s to %s trails through sprung switch %s, which the train opens itself"
              .formatted(path.from(), path.to(), id.value()),
          "take it out");
    }
    return sprung;
  }

  private Stream<Switch> ends(YamlNode.Text id) {
    String number = number(id.value());
    return layout.switches().values().stream().filter(end -> end.number().equals(number));
  }

  private String number(String id) {
    return layout.switches().get(id).number();
  }

  private Switch toe(YamlNode.Text id) {
    return Optional.ofNullable(layout.switches().get(id.value())).orElseThrow();
  }
}
