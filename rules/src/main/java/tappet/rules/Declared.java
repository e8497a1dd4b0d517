package tappet.rules;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Position;
import tappet.source.NearNames;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads names that the layout must have declared. */
final class Declared {

  private static final List<String> POSITIONS =
      List.of(Position.NORMAL.word(), Position.REVERSE.word());

  private final Problems problems;

  Declared(Problems problems) {
    this.problems = problems;
  }

  /** One name of {@code kind} out of {@code known}. */
  Optional<YamlNode.Text> name(Value value, String kind, Collection<String> known) {
    return value.text().filter(text -> isDeclared(text, kind, known));
  }

  /** A list of names. */
  List<YamlNode.Text> names(Value value, String kind, Collection<String> known) {
    List<YamlNode.Text> names = new ArrayList<>();
    value.items().forEach(item -> name(item, kind, known).ifPresent(names::add));
    return names;
  }

  /** Switches and how they lie. */
  Map<YamlNode.Text, Position> positions(Value value, Collection<String> switches) {
    Map<YamlNode.Text, Position> positions = new LinkedHashMap<>();
    for (Value.Named named : value.named()) {
      boolean declared = isDeclared(named.key(), "switch", switches);
      Optional<YamlNode.Text> word = named.value().word(POSITIONS);
      if (declared && word.isPresent()) {
        boolean normal = word.get().value().equals(Position.NORMAL.word());
        positions.put(named.key(), normal ? Position.NORMAL : Position.REVERSE);
      }
    }
    return positions;
  }

  private boolean isDeclared(YamlNode.Text name, String kind, Collection<String> known) {
    if (known.contains(name.value())) {
      return true;
    }
    problems.add(
        name.place(),
        "this layout has no %s %s".formatted(kind, name.shown()),
        NearNames.meant(name.value(), known, "declare it in the layout file"));
    return false;
  }
}
