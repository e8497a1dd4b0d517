package tappet.layout;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads joints, sections, switches and signals; every name they refer to must be declared. */
final class ElementReader {

  private static final String EVENT = "0A.57.00.00.01.00.11.01";
  private static final Duration THROW_TIME = Duration.ofSeconds(4);

  private final Map<String, Place> joints;
  private final Map<String, Place> sections;
  private final Problems problems;
  private final Map<String, Place> intoPlaces;
  private final Wiring wiring = new Wiring();
  private final SignalReader signals;

  /** By section: what it names as its power district. */
  private final Map<String, Value> districtsNamed = new LinkedHashMap<>();

  private final WorkingReader workings;

  /**
   * A reader of one file's elements.
   *
   * @param looks which lights make up which aspect, by the name of the form of signal
   * @param intoPlaces where to note the place at which each signal says what it leads into
   */
  ElementReader(
      LayoutReader.Lists lists,
      Map<String, Looks> looks,
      Map<String, Place> intoPlaces,
      Problems problems) {
    this.joints = declared(lists.joints());
    this.sections = declared(lists.sections());
    this.intoPlaces = intoPlaces;
    this.problems = problems;
    this.workings = new WorkingReader(declared(lists.switchesAndDerails()), wiring);
    this.signals = new SignalReader(looks, declared(lists.signals()).keySet(), wiring, problems);
  }

  /** A reader of the other devices on the same plan, which share its event ids. */
  LinesideReader lineside(Layout plan) {
    return new LinesideReader(plan, districtsNamed, wiring, problems);
  }

  /** What the daemon sends, whose event id is of this plan too. */
  Optional<Heartbeat> heartbeat(Value written) {
    return written.read(fields -> Heartbeat.read(fields, wiring));
  }

  Optional<Joint> joint(YamlNode.Text id, Value written) {
    var at = written.items(2).stream().map(Value::number).flatMap(Optional::stream).toList();
    return at.size() == 2
        ? Optional.of(new Joint(id.value(), at.get(0), at.get(1), id.place()))
        : Optional.empty();
  }

  Optional<Section> section(YamlNode.Text id, Value written) {
    return written.read(
        fields -> {
          var section =
              new Section(
                  id.value(),
                  name(id, fields),
                  between(id, fields.optional("between", "[j1, j2]")),
                  fields.required("length", "3.2 m").metres().orElse(1.0),
                  event(fields, "occupied", "section '%s' is occupied".formatted(id.value())),
                  event(fields, "clear", "section '%s' is clear".formatted(id.value())),
                  id.place());
          districtsNamed.put(id.value(), fields.optional("district", "west"));
          return section;
        });
  }

  private List<String> between(YamlNode.Text id, Value between) {
    var ends = between.items(2).stream().map(this::jointNamed).flatMap(Optional::stream).toList();
    if (ends.size() == 2 && ends.get(0).equals(ends.get(1))) {
      between.note(
          "both ends of section '%s' are joint '%s'".formatted(id.value(), ends.get(0)),
          "name two different joints");
    }
    return ends;
  }

  Optional<Switch> toe(YamlNode.Text id, Value written) {
    return written.read(
        fields ->
            toe("switch", id, corners(fields, List.of("points", "normal", "reverse")), fields));
  }

  /** A derail is a switch without a normal leg. */
  Optional<Switch> derail(YamlNode.Text id, Value written) {
    return written.read(
        fields -> {
          var corners = corners(fields, List.of("points", "through"));
          return toe("derail", id, List.of(corners.get(0), "", corners.get(1)), fields);
        });
  }

  private Switch toe(String kind, YamlNode.Text id, List<String> corners, Fields fields) {
    var section = sectionNamed(fields.required("section", "tilling-w"));
    var worked = workings.worked(kind, id.value(), fields);
    return new Switch(
        id.value(),
        name(id, fields),
        section.orElse(""),
        corners.get(0),
        corners.get(1),
        corners.get(2),
        worked.to(),
        worked.at(),
        throwTime(fields.optional("throw time", "4 s")),
        worked.working(),
        id.place());
  }

  /** Points and legs, which lie at different joints. */
  private List<String> corners(Fields fields, List<String> keys) {
    List<String> corners = new ArrayList<>();
    for (String key : keys) {
      var written = fields.required(key, "j1");
      var joint = jointNamed(written);
      joint
          .filter(corners::contains)
          .ifPresent(
              twice ->
                  written.note(
                      "joint '%s' stands twice in one switch".formatted(twice),
                      "%s are %s different joints"
                          .formatted(NearNames.few(keys), keys.size() == 3 ? "three" : "two")));
      corners.add(joint.orElse(""));
    }
    return corners;
  }

  private static Duration throwTime(Value written) {
    var time = written.duration().orElse(THROW_TIME);
    if (time.isZero()) {
      written.note("no switch moves in no time", "write how long it may take, for example 4 s");
    }
    return time;
  }

  Optional<Signal> signal(YamlNode.Text id, Value written) {
    refuseNameOfJoint(id);
    return written.read(
        fields -> {
          var at = jointNamed(fields.required("at", "j1"));
          var into = fields.required("into", "west-main");
          intoPlaces.put(id.value(), into.place());
          return signals.complete(
              new Signal(
                  id.value(),
                  name(id, fields),
                  at.orElse(""),
                  sectionNamed(into).orElse(""),
                  aspects(id, shows(fields)),
                  id.place()),
              fields);
        });
  }

  /** A route leads to a signal or to a joint at the end of track: one name, one goal. */
  private void refuseNameOfJoint(YamlNode.Text id) {
    if (joints.containsKey(id.value())) {
      problems.add(
          id.place(),
          "%s is the name of a joint too, in line %d"
              .formatted(id.shown(), joints.get(id.value()).line()),
          "rename one of the two, because routes can lead to both");
    }
  }

  /** A signal whose lamps are switched one by one has no events of its aspects. */
  private static Value shows(Fields fields) {
    var example = "{stop: " + EVENT + "}";
    boolean byLamp = fields.optional("lamps", "").present();
    return byLamp ? fields.optional("shows", example) : fields.required("shows", example);
  }

  private Map<String, EventId> aspects(YamlNode.Text signal, Value shows) {
    Map<String, EventId> events = new LinkedHashMap<>();
    for (Value.Named aspect : shows.named()) {
      var name = aspect.key();
      var meaning = "signal '%s' shows %s".formatted(signal.value(), name.value());
      if (Value.isIdentifier(name, problems)) {
        var event = aspect.value().called(name.shown(), name.value() + ": " + EVENT);
        wiring.event(event, meaning).ifPresent(id -> events.put(name.value(), id));
      }
    }
    checkStop(shows);
    return Collections.unmodifiableMap(events);
  }

  private static void checkStop(Value shows) {
    var names = shows.named().stream().map(aspect -> aspect.key().value()).toList();
    if (shows.holdsKeys() && !names.contains(Signal.STOP)) {
      shows.note(
          "'shows' lacks '%s'".formatted(Signal.STOP),
          NearNames.nearest(Signal.STOP, names)
              .map("did you mean it by '%s'?"::formatted)
              .orElse("add for example '%s: %s'".formatted(Signal.STOP, EVENT)));
    }
  }

  private static String name(YamlNode.Text id, Fields fields) {
    return fields.optional("name", "West Tilling").text().orElse(id).value();
  }

  private EventId event(Fields fields, String key, String meaning) {
    return wiring.event(fields.required(key, EVENT), meaning).orElse(Wiring.NONE);
  }

  private Optional<String> jointNamed(Value written) {
    return named(written, "joint", joints);
  }

  private Optional<String> sectionNamed(Value written) {
    return named(written, "section", sections);
  }

  static Optional<String> named(Value written, String kind, Map<String, Place> declared) {
    var name = written.text();
    name.filter(text -> !declared.containsKey(text.value()))
        .ifPresent(
            text ->
                written.note(
                    "there is no %s %s".formatted(kind, text.shown()),
                    NearNames.meant(
                        text.value(), declared.keySet(), "add it under '%ss'".formatted(kind))));
    return name.map(YamlNode.Text::value).filter(declared::containsKey);
  }

  static Map<String, Place> declared(List<Value.Named> elements) {
    Map<String, Place> places = new LinkedHashMap<>();
    elements.forEach(element -> places.put(element.key().value(), element.key().place()));
    return places;
  }
}
