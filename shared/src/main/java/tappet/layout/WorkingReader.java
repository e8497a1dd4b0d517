package tappet.layout;

import java.time.Duration;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import tappet.lcc.EventId;
import tappet.source.Fields;
import tappet.source.NearNames;
import tappet.source.Place;
import tappet.source.Value;

/** Reads how switches and derails are worked: what moves them, what tells where they lie. */
final class WorkingReader {

  private static final String EVENT = "0A.57.00.00.01.00.11.01";
  private static final String BOTH_POSITIONS = "{normal: " + EVENT + ", reverse: …}";
  private static final String LOCK =
      "{to: {release: " + EVENT + ", secure: …}, at: {released: …, secured: …}}";

  /** A switch that moves with another is told nothing of its own but where it lies. */
  private static final List<String> FOR_THE_NUMBER = List.of("control", "lock", "asks", "tries");

  private final Map<String, Place> switches;
  private final Wiring wiring;

  /**
   * A reader of one file's switches.
   *
   * @param switches every switch and derail that is declared
   */
  WorkingReader(Map<String, Place> switches, Wiring wiring) {
    this.switches = switches;
    this.wiring = wiring;
  }

  /** What stands beside a switch: the events that move it, that detect it, and how it is worked. */
  record Worked(Map<Position, EventId> to, Map<Position, EventId> at, Working working) {}

  /**
   * Reads the keys of one switch.
   *
   * @param kind {@code switch} or {@code derail}
   */
  Worked worked(String kind, String id, Fields fields) {
    var named = "%s '%s'".formatted(kind, id);
    boolean derail = kind.equals("derail");
    var with = with(id, fields.optional("with", "t1"));
    return with.isPresent()
        ? follower(named, with.get(), derail, fields)
        : byItself(named, derail, fields);
  }

  private Worked byItself(String named, boolean derail, Fields fields) {
    var control = control(fields.optional("control", "released"));
    var assumed = fields.optional("assumed after", "4 s");
    return new Worked(
        motor(named, control, fields),
        detection(named, control, assumed, fields),
        new Working(
            control,
            Optional.empty(),
            lock(named, control, fields),
            asks(named, control, fields),
            aboveZero(assumed),
            tries(control, fields.optional("tries", "2")),
            derail));
  }

  private Worked follower(String named, String lead, boolean derail, Fields fields) {
    for (String key : FOR_THE_NUMBER) {
      refuse(
          fields.optional(key, "…"),
          "%s moves with switch '%s', which says '%s' for both".formatted(named, lead, key),
          "take it out here");
    }
    var assumed = fields.optional("assumed after", "4 s");
    return new Worked(
        positions(fields.optional("to", BOTH_POSITIONS), named + " go %s"),
        detection(named, Control.DISPATCHER, assumed, fields),
        new Working(
            Control.DISPATCHER,
            Optional.of(lead),
            Optional.empty(),
            Map.of(),
            aboveZero(assumed),
            1,
            derail));
  }

  private Optional<String> with(String id, Value written) {
    var name = written.text();
    name.filter(text -> text.value().equals(id))
        .ifPresent(
            text ->
                written.note(
                    "switch '%s' cannot move with itself".formatted(id),
                    "name the other end of the crossover"));
    name.filter(text -> !switches.containsKey(text.value()))
        .ifPresent(
            text ->
                written.note(
                    "there is no switch %s".formatted(text.shown()),
                    NearNames.meant(text.value(), others(id), "add it under 'switches'")));
    return name.map(text -> text.value());
  }

  private List<String> others(String id) {
    return switches.keySet().stream().filter(other -> !other.equals(id)).toList();
  }

  private static Control control(Value written) {
    return written
        .word(Control.words())
        .map(word -> Control.of(word.value()))
        .orElse(Control.DISPATCHER);
  }

  private Map<Position, EventId> motor(String named, Control control, Fields fields) {
    if (control.hasMotor()) {
      return positions(fields.required("to", BOTH_POSITIONS), named + " go %s");
    }
    refuse(
        fields.optional("to", BOTH_POSITIONS),
        "%s has no motor that 'to' could move".formatted(named),
        "take 'to' out, or write 'control: dispatcher'");
    return Map.of();
  }

  /** 49 CFR 236.6: where nobody sends a switch, only detection can tell how it lies. */
  private Map<Position, EventId> detection(
      String named, Control control, Value assumed, Fields fields) {
    boolean mayBeAssumed = control.hasMotor() && assumed.present();
    if (assumed.present() && !control.hasMotor()) {
      assumed.note(
          "%s is thrown by hand, and nothing can be assumed of it".formatted(named),
          "give it detection, for example 'at: %s'".formatted(BOTH_POSITIONS));
    }
    var at =
        mayBeAssumed
            ? fields.optional("at", BOTH_POSITIONS)
            : fields.required("at", BOTH_POSITIONS);
    if (mayBeAssumed && at.present()) {
      assumed.note(
          "%s is detected, so that nothing is assumed of it".formatted(named),
          "take out 'assumed after', or 'at'");
    }
    return positions(at, named + " is %s");
  }

  private Map<Position, EventId> asks(String named, Control control, Fields fields) {
    if (control == Control.LOCAL) {
      return positions(fields.required("asks", BOTH_POSITIONS), named + " is asked to go %s");
    }
    refuse(
        fields.optional("asks", BOTH_POSITIONS),
        "%s is not thrown from a control beside the track".formatted(named),
        "write 'control: local', or take 'asks' out");
    return Map.of();
  }

  private Optional<ElectricLock> lock(String named, Control control, Fields fields) {
    if (control == Control.RELEASED) {
      return fields.required("lock", LOCK).read(lock -> lock("the lock of " + named, lock));
    }
    refuse(
        fields.optional("lock", LOCK),
        "%s has a lock that nobody would release".formatted(named),
        "write 'control: released', or take 'lock' out");
    return Optional.empty();
  }

  private ElectricLock lock(String named, Fields lock) {
    var assumed = lock.optional("assumed after", "2 s");
    var at =
        assumed.present()
            ? lock.optional("at", "{released: " + EVENT + ", secured: …}")
            : lock.required("at", "{released: " + EVENT + ", secured: …}");
    if (assumed.present() && at.present()) {
      assumed.note(
          "%s is detected, so that nothing is assumed of it".formatted(named),
          "take out 'assumed after', or 'at'");
    }
    return new ElectricLock(
        events(
            lock.required("to", "{release: " + EVENT + ", secure: …}"),
            LockState.class,
            LockState::order,
            "%s " + named),
        events(at, LockState.class, LockState::word, named + " is %s"),
        aboveZero(assumed));
  }

  private Map<Position, EventId> positions(Value written, String meaning) {
    return events(written, Position.class, Position::word, meaning);
  }

  /** One event for each of {@code kind}, under its word. */
  private <K extends Enum<K>> Map<K, EventId> events(
      Value written, Class<K> kind, Function<K, String> wordOf, String meaning) {
    return written
        .read(
            each -> {
              Map<K, EventId> events = new EnumMap<>(kind);
              for (K one : kind.getEnumConstants()) {
                var word = wordOf.apply(one);
                var event = wiring.event(each.required(word, EVENT), meaning.formatted(word));
                events.put(one, event.orElse(Wiring.NONE));
              }
              return Collections.unmodifiableMap(events);
            })
        .orElse(Map.of());
  }

  private static int tries(Control control, Value written) {
    if (!control.hasMotor()) {
      refuse(written, "a switch without a motor is never tried again", "take 'tries' out");
    }
    return written.wholeNumber(1, Working.TRIES_MAX).orElse(1);
  }

  private static Optional<Duration> aboveZero(Value written) {
    var time = written.duration();
    time.filter(Duration::isZero)
        .ifPresent(
            zero ->
                written.note("nothing can be assumed after no time", "write for example '4 s'"));
    return time.filter(above -> !above.isZero());
  }

  private static void refuse(Value written, String wrong, String meant) {
    if (written.present()) {
      written.note(wrong, meant);
    }
  }
}
