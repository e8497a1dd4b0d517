package tappet.layout;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import tappet.lcc.EventId;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads the devices besides sections, switches and signals, once those have been read. */
final class LinesideReader {

  private static final String EVENT = "0A.57.00.00.01.00.51.01";

  private static final Duration LOCK_TIME = Duration.ofSeconds(4);
  private static final Duration STEADY = Duration.ofMillis(100);

  private final Layout plan;
  private final Map<String, Value> districtsNamed;
  private final Wiring wiring;
  private final Problems problems;

  /**
   * A reader of one file's devices.
   *
   * @param plan the layout so far
   * @param districtsNamed by section: what it names as its power district
   * @param wiring the events that have a meaning already
   */
  LinesideReader(Layout plan, Map<String, Value> districtsNamed, Wiring wiring, Problems problems) {
    this.plan = plan;
    this.districtsNamed = districtsNamed;
    this.wiring = wiring;
    this.problems = problems;
  }

  Lineside lineside(Fields layout) {
    return new Lineside(
        districts(layout.optional("districts", "{west: {tripped: …, restored: …}}").named()),
        all(layout.optional("openings", "{doorway: {…}}"), "opening", this::opening),
        all(layout.optional("lamps", "{yard-red: {lit: …, dark: …}}"), "lamp", this::lamp),
        all(layout.optional("buttons", "{quarry-call: {…}}"), "button", this::button),
        all(layout.optional("spots", "{fallow-spot: {…}}"), "spot", this::spot),
        all(
            layout.optional("grade crossings", "{mill-road: {…}}"),
            "grade crossing",
            this::crossing));
  }

  private Map<String, PowerDistrict> districts(List<Value.Named> written) {
    var ids = written.stream().map(district -> district.key().value()).toList();
    Map<String, List<String>> sections = new LinkedHashMap<>();
    districtsNamed.forEach(
        (section, named) ->
            declared(named, "power district", ids)
                .ifPresent(
                    id -> sections.computeIfAbsent(id, any -> new ArrayList<>()).add(section)));
    return devices(
        written,
        "power district",
        (id, fields) ->
            new PowerDistrict(
                id.value(),
                name(id, fields, "West end"),
                sections.getOrDefault(id.value(), List.of()),
                event(fields, "tripped", "power district '%s' is tripped", id),
                event(fields, "restored", "power district '%s' is restored", id),
                id.place()));
  }

  private Opening opening(YamlNode.Text id, Fields fields) {
    return new Opening(
        id.value(),
        name(id, fields, "Doorway"),
        form(fields.optional("kind", "lift-out")),
        sections(fields.required("sections", "[mid-west]")),
        event(fields, "closed", "opening '%s' is closed", id),
        event(fields, "open", "opening '%s' is open", id),
        lock(id, fields),
        id.place());
  }

  private static Opening.Form form(Value written) {
    return written
        .word(Opening.Form.words())
        .flatMap(word -> Opening.Form.of(word.value()))
        .orElse(Opening.Form.LIFT_OUT);
  }

  private List<String> sections(Value written) {
    List<String> known = List.copyOf(plan.sections().keySet());
    if (written.present() && written.items().isEmpty()) {
      written.note("no section lies over this opening", "write for example 'sections: [mid-west]'");
    }
    return written.items().stream()
        .map(item -> declared(item, "section", known))
        .flatMap(Optional::stream)
        .toList();
  }

  /** A lock has all of its events or none. */
  private Optional<Opening.Lock> lock(YamlNode.Text id, Fields fields) {
    var time = fields.optional("lock time", "4 s");
    boolean locks =
        Stream.of("locked", "unlocked", "to").anyMatch(key -> fields.optional(key, "").present());
    if (!locks) {
      if (time.present()) {
        time.note("this opening has no lock", "add 'locked', 'unlocked' and 'to', or leave it out");
      }
      return Optional.empty();
    }
    var locked = event(fields, "locked", "opening '%s' is locked", id);
    var unlocked = event(fields, "unlocked", "opening '%s' is unlocked", id);
    return fields
        .required("to", "{lock: %s, unlock: …}".formatted(EVENT))
        .read(
            to ->
                new Opening.Lock(
                    locked,
                    unlocked,
                    event(to, "lock", "lock opening '%s'", id),
                    event(to, "unlock", "unlock opening '%s'", id),
                    aboveZero(time, LOCK_TIME)));
  }

  private Lamp lamp(YamlNode.Text id, Fields fields) {
    return new Lamp(
        id.value(),
        name(id, fields, "Yard lead red"),
        event(fields, "lit", "light lamp '%s'", id),
        event(fields, "dark", "put lamp '%s' out", id),
        id.place());
  }

  private Button button(YamlNode.Text id, Fields fields) {
    return new Button(
        id.value(),
        name(id, fields, "Quarry call"),
        event(fields, "pressed", "button '%s' is pressed", id),
        event(fields, "released", "button '%s' is released", id),
        aboveZero(fields.optional("steady", "100 ms"), STEADY),
        id.place());
  }

  private SpotDetector spot(YamlNode.Text id, Fields fields) {
    return new SpotDetector(
        id.value(),
        name(id, fields, "Fallow"),
        declared(fields.required("at", "j3"), "joint", List.copyOf(plan.joints().keySet()))
            .orElse(""),
        passings(id, fields),
        id.place());
  }

  /** A spot tells of every train alike, or of each direction by itself. */
  private Map<String, EventId> passings(YamlNode.Text id, Fields fields) {
    var either = fields.optional(SpotDetector.PASSED, EVENT);
    boolean directions =
        fields.optional(SpotDetector.EAST, EVENT).present()
            || fields.optional(SpotDetector.WEST, EVENT).present();
    if (!directions) {
      return Map.of(
          SpotDetector.PASSED, event(fields, SpotDetector.PASSED, "a train passes '%s'", id));
    }
    if (either.present()) {
      either.note(
          "spot '%s' tells of each direction already".formatted(id.value()),
          "leave 'passed' out, or 'east' and 'west'");
    }
    return Lineside.events(
        SpotDetector.EAST,
        event(fields, SpotDetector.EAST, "a train passes '%s' eastward", id),
        SpotDetector.WEST,
        event(fields, SpotDetector.WEST, "a train passes '%s' westward", id));
  }

  private GradeCrossing crossing(YamlNode.Text id, Fields fields) {
    var island = fields.required("island", "mill-branch");
    return new GradeCrossing(
        id.value(),
        name(id, fields, "Mill Road"),
        declared(island, "section", List.copyOf(plan.sections().keySet())).orElse(""),
        event(fields, "warn", "grade crossing '%s' is to warn", id),
        event(fields, "rest", "grade crossing '%s' is to rest", id),
        id.place());
  }

  private static Duration aboveZero(Value written, Duration otherwise) {
    var time = written.duration().orElse(otherwise);
    if (time.isZero()) {
      written.note("a time must be above 0", "write for example '4 s'");
    }
    return time;
  }

  private <T> Map<String, T> all(
      Value written, String kind, BiFunction<YamlNode.Text, Fields, T> reader) {
    return devices(written.named(), kind, reader);
  }

  private <T> Map<String, T> devices(
      List<Value.Named> written, String kind, BiFunction<YamlNode.Text, Fields, T> reader) {
    Map<String, T> devices = new LinkedHashMap<>();
    for (Value.Named device : written) {
      var id = device.key();
      if (Value.isIdentifier(id, problems)) {
        device
            .value()
            .called(kind + " " + id.shown(), id.value() + ": {…}")
            .read(fields -> reader.apply(id, fields))
            .ifPresent(read -> devices.put(id.value(), read));
      }
    }
    return Collections.unmodifiableMap(devices);
  }

  /** A name that must be among {@code known}. */
  private static Optional<String> declared(Value written, String kind, List<String> known) {
    var name = written.text();
    name.filter(text -> !known.contains(text.value()))
        .ifPresent(
            text ->
                written.note(
                    "there is no %s %s".formatted(kind, text.shown()),
                    NearNames.meant(text.value(), known, "declare it first")));
    return name.map(YamlNode.Text::value).filter(known::contains);
  }

  private static String name(YamlNode.Text id, Fields fields, String example) {
    return fields.optional("name", example).text().orElse(id).value();
  }

  private EventId event(Fields fields, String key, String meaning, YamlNode.Text id) {
    return wiring
        .event(fields.required(key, EVENT), meaning.formatted(id.value()))
        .orElse(Wiring.NONE);
  }
}
