package tappet.rules;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Layout;
import tappet.sentence.Condition;
import tappet.source.Fields;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads which signals are lit only when a train can see them. */
final class LightReader {

  static final String EXAMPLE = "{signal: t2e, when: section west-main is occupied}";

  private final Layout layout;
  private final ConditionReader conditions;
  private final Problems problems;

  LightReader(Layout layout, ConditionReader conditions, Problems problems) {
    this.layout = layout;
    this.conditions = conditions;
    this.problems = problems;
  }

  /** By signal: when it is lit. */
  Map<String, SignalLight> lights(Value written) {
    Map<String, SignalLight> lights = new LinkedHashMap<>();
    for (Value item : written.items()) {
      item.called("the entry", EXAMPLE)
          .read(this::light)
          .flatMap(light -> light)
          .ifPresent(light -> add(light, lights));
    }
    return lights;
  }

  private Optional<SignalLight> light(Fields fields) {
    Value written = fields.required("signal", "t2e");
    Optional<YamlNode.Text> signal =
        new Declared(problems).name(written, "signal", layout.signals().keySet());
    signal
        .filter(id -> !layout.signals().get(id.value()).canGoDark())
        .ifPresent(
            id ->
                written.note(
                    "signal %s has no event that puts its lights out".formatted(id.value()),
                    "add 'dark: <event id>' to it in the layout file"));
    Optional<Condition> when =
        conditions.read(fields.required("when", "section west-main is occupied"));
    return signal.flatMap(
        id -> when.map(condition -> new SignalLight(id.value(), condition, fields.place())));
  }

  private void add(SignalLight light, Map<String, SignalLight> lights) {
    SignalLight other = lights.putIfAbsent(light.signal(), light);
    if (other != null) {
      problems.add(
          light.place(),
          "signal %s is lit by line %d already".formatted(light.signal(), other.place().line()),
          "join the two conditions with 'or'");
    }
  }
}
