package tappet.layout;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads which lights make up which aspect, and in which order aspects restrict. */
final class LooksReader {

  private static final String RESTRICTION = "[stop, approach, clear]";

  private final List<String> restriction;
  private final Problems problems;

  private LooksReader(List<String> restriction, Problems problems) {
    this.restriction = restriction;
    this.problems = problems;
  }

  /**
   * Reads the tables of looks by their names.
   *
   * @param looks the tables as written
   * @param order the aspects from Stop to the most favourable, as written
   */
  static Map<String, Looks> read(Value looks, Value order, Problems problems) {
    if (looks.present() && !order.present()) {
      looks.note(
          "'looks' needs to know which aspect restricts more than which",
          "add for example 'restriction: %s', beginning with the most restrictive"
              .formatted(RESTRICTION));
    }
    LooksReader reader = new LooksReader(restriction(order), problems);
    Map<String, Looks> tables = new LinkedHashMap<>();
    for (Value.Named table : looks.named()) {
      if (Value.isIdentifier(table.key(), problems)) {
        tables.put(table.key().value(), reader.table(table));
      }
    }
    return tables;
  }

  private static List<String> restriction(Value order) {
    List<String> aspects = new ArrayList<>();
    for (Value item : order.items()) {
      Optional<String> aspect = item.identifier().map(YamlNode.Text::value);
      aspect
          .filter(aspects::contains)
          .ifPresent(
              twice ->
                  item.note("'%s' stands twice".formatted(twice), "let each aspect stand once"));
      aspect.filter(name -> !aspects.contains(name)).ifPresent(aspects::add);
    }
    if (!aspects.isEmpty() && !aspects.get(0).equals(Signal.STOP)) {
      order.note(
          "'restriction' begins with '%s'".formatted(aspects.get(0)),
          "let it begin with 'stop', the most restrictive, and end with the most favourable");
    }
    return List.copyOf(aspects);
  }

  private Looks table(Value.Named table) {
    Map<String, List<Light>> aspects = new LinkedHashMap<>();
    Map<String, Place> places = new LinkedHashMap<>();
    int before = problems.sorted().size();
    for (Value.Named aspect : table.value().called(table.key().shown(), "{stop: [red]}").named()) {
      String name = aspect.key().value();
      checkName(aspect.key());
      aspects.put(name, lights(aspect));
      places.put(name, aspect.key().place());
    }
    if (!aspects.containsKey(Signal.STOP)) {
      problems.add(
          table.key().place(),
          "looks %s lack 'stop'".formatted(table.key().shown()),
          "add for example 'stop: [red]'");
    }
    Looks looks = new Looks(table.key().value(), Collections.unmodifiableMap(aspects), restriction);
    new LooksCheck(looks, places, problems).check(problems.sorted().size() == before);
    return looks;
  }

  private void checkName(YamlNode.Text aspect) {
    if (Value.isIdentifier(aspect, problems)
        && !restriction.isEmpty()
        && !restriction.contains(aspect.value())) {
      problems.add(
          aspect.place(),
          "'restriction' does not say how much %s restricts".formatted(aspect.shown()),
          NearNames.nearest(aspect.value(), restriction)
              .map("did you mean '%s'?"::formatted)
              .orElse("put it there between a more restrictive and a more favourable aspect"));
    }
  }

  private static List<Light> lights(Value.Named aspect) {
    List<Light> lights = new ArrayList<>();
    for (Value light : aspect.value().called(aspect.key().shown(), "[yellow, red]").items()) {
      light
          .called("the light", "flashing yellow")
          .parsed(
              Light::parse,
              "a light: %s, the same behind 'flashing', or dark"
                  .formatted(String.join(", ", Colour.words())))
          .ifPresent(lights::add);
    }
    return List.copyOf(lights);
  }
}
