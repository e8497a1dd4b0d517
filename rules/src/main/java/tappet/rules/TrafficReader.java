package tappet.rules;

import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Layout;
import tappet.sentence.Command.Heading;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the lines between control points and which signals lead over them which way. */
final class TrafficReader {

  private static final String EXAMPLE =
      "{line: midway, sections: [mid-west, mid-east], eastward: [t4e], westward: [c4w]}";

  private final Layout layout;
  private final Declared declared;
  private final Problems problems;
  private final Map<String, String> lineOfSection = new HashMap<>();

  TrafficReader(Layout layout, Problems problems) {
    this.layout = layout;
    this.declared = new Declared(problems);
    this.problems = problems;
  }

  /** The lines by id, in the order of the file. */
  Map<String, TrafficLine> lines(Value traffic) {
    Map<String, TrafficLine> lines = new LinkedHashMap<>();
    for (Value item : traffic.items()) {
      item.called("the line", EXAMPLE)
          .read(this::line)
          .flatMap(line -> line)
          .ifPresent(line -> add(line, lines));
    }
    return lines;
  }

  private void add(TrafficLine line, Map<String, TrafficLine> lines) {
    TrafficLine other = lines.putIfAbsent(line.id(), line);
    if (other != null) {
      problems.add(
          line.place(),
          "a line named '%s' stands in line %d already".formatted(line.id(), other.place().line()),
          "give this one another name");
    }
  }

  private Optional<TrafficLine> line(Fields fields) {
    var id = fields.required("line", "midway").identifier();
    var sections = sections(fields.required("sections", "[mid-west, mid-east]"), id);
    Map<Heading, List<String>> signals = new EnumMap<>(Heading.class);
    signals.put(Heading.EAST, signals(fields.optional("eastward", "[t4e, t6e]")));
    signals.put(Heading.WEST, signals(fields.optional("westward", "[c4w, c6w]")));
    return id.map(name -> new TrafficLine(name.value(), sections, signals, fields.place()));
  }

  private Set<String> sections(Value written, Optional<YamlNode.Text> line) {
    Set<String> sections = new LinkedHashSet<>();
    for (YamlNode.Text section : declared.names(written, "section", layout.sections().keySet())) {
      sections.add(section.value());
      line.map(id -> lineOfSection.putIfAbsent(section.value(), id.value()))
          .ifPresent(
              other ->
                  problems.add(
                      section.place(),
                      "section %s belongs to line %s already".formatted(section.value(), other),
                      "traffic over a section is locked by one line"));
    }
    return sections;
  }

  private List<String> signals(Value written) {
    Collection<String> known = layout.signals().keySet();
    return new ArrayList<>(WrittenRow.values(declared.names(written, "signal", known)));
  }
}
