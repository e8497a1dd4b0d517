package tappet.bridge.field;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.interlocking.Input;
import tappet.interlocking.Output;
import tappet.layout.Board;
import tappet.layout.ElectricLock;
import tappet.layout.Layout;
import tappet.layout.Light;
import tappet.layout.Lights;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.layout.Switch;
import tappet.lcc.EventId;
import tappet.lcc.Validity;
import tappet.sentence.Condition.Occupancy;

/**
 * Keeps what each device of the field was last heard to say, and by which connection; and what each
 * was last told.
 */
public final class Field {

  /** The last word of a device, and the connection it came by. */
  private record Heard(Meaning meaning, String origin) {}

  private final Layout layout;
  private final Map<EventId, Meaning> meanings = new LinkedHashMap<>();
  private final Map<String, Heard> heard = new LinkedHashMap<>();

  private final Undetected undetected;

  private final LinesideEvents lineside;
  private final Map<EventId, String> commands = new LinkedHashMap<>();
  private final Map<String, EventId> told = new LinkedHashMap<>();
  private final Flasher flasher;

  public Field(Layout layout) {
    this(layout, new Flasher());
  }

  private Field(Layout layout, Flasher flasher) {
    this.flasher = flasher;
    this.layout = layout;
    this.undetected = new Undetected(layout);
    TrackEvents track = new TrackEvents(layout);
    lineside = new LinesideEvents(layout.lineside());
    meanings.putAll(track.meanings());
    meanings.putAll(lineside.meanings());
    commands.putAll(track.commands());
    commands.putAll(lineside.commands());
  }

  /**
   * The field of another layout, which goes on where this one stands: what was heard and told by an
   * event that means the same there is not forgotten.
   */
  public Field goOn(Layout next) {
    Set<SignalLamp> lamps =
        next.signals().values().stream()
            .flatMap(signal -> signal.lights().stream())
            .flatMap(lights -> lights.lamps().stream())
            .collect(Collectors.toSet());
    Field field = new Field(next, flasher.keeping(lamps::contains));
    meanings.forEach(
        (event, meaning) -> {
          Heard last = heard.get(meaning.device());
          boolean saidSo = last != null && last.meaning().equals(meaning);
          if (saidSo && meaning.equals(field.meanings.get(event))) {
            field.heard.put(meaning.device(), last);
          }
        });
    told.forEach(
        (device, event) -> {
          if (device.equals(field.commands.get(event))) {
            field.told.put(device, event);
          }
        });
    return field;
  }

  /** What these devices have said last, as if they had been asked. */
  public List<Input> found(Set<String> devices) {
    return heard.values().stream()
        .map(Heard::meaning)
        .filter(meaning -> devices.contains(meaning.key()))
        .map(meaning -> found(meaning, meaning.reported()))
        .toList();
  }

  /** The events by which these devices tell how they are. */
  public List<EventId> reports(Set<String> devices) {
    return reports().stream().filter(event -> devices.contains(meanings.get(event).key())).toList();
  }

  /** The events that the field's devices send. */
  public List<EventId> consumed() {
    return List.copyOf(meanings.keySet());
  }

  /** The events that the field's devices are told by. */
  public List<EventId> produced() {
    return List.copyOf(commands.keySet());
  }

  /** Whether a device was last told by this event. */
  public Validity producerState(EventId event) {
    EventId last = told.get(commands.get(event));
    return last == null ? Validity.UNKNOWN : valid(last.equals(event));
  }

  /** Whether a device has last said what this event says. */
  public Validity consumerState(EventId event) {
    Meaning meaning = meanings.get(event);
    Heard last = meaning == null ? null : heard.get(meaning.device());
    return last == null ? Validity.UNKNOWN : valid(last.meaning().equals(meaning));
  }

  /** The events whose producers are to be asked because nothing is known of their device. */
  public List<EventId> unanswered() {
    return reports().stream()
        .filter(event -> !heard.containsKey(meanings.get(event).device()))
        .toList();
  }

  /** The events whose producers can tell how a device is. */
  public List<EventId> reports() {
    return meanings.entrySet().stream()
        .filter(entry -> !entry.getValue().onlyByReport())
        .map(Map.Entry::getKey)
        .toList();
  }

  /**
   * A producer has told its state. An emergency is called and cleared by reports alone: a node that
   * merely tells that all is well with it has cleared nothing (TN-9.7.3.1 §2.4.6).
   *
   * @return as {@link #hear}
   */
  public Optional<Input> hearState(EventId event, Validity validity, String origin) {
    Meaning meaning = meanings.get(event);
    return meaning == null || meaning.onlyByReport()
        ? Optional.empty()
        : hear(event, validity, origin).map(input -> found(meaning, input));
  }

  /** A state that has been asked for has not come about just now. */
  private static Input found(Meaning meaning, Input input) {
    return meaning instanceof Meaning.DeviceIs is && input.equals(is.reported())
        ? is.found()
        : input;
  }

  /**
   * An event has been reported, or its producer has told its state.
   *
   * @param origin the connection it came by
   * @return what the interlocking learns from it; empty where it is nothing new
   */
  public Optional<Input> hear(EventId event, Validity validity, String origin) {
    Meaning meaning = meanings.get(event);
    if (meaning == null) {
      return Optional.empty();
    }
    if (meaning.isMoment()) {
      return Optional.of(meaning.reported()).filter(any -> validity == Validity.VALID);
    }
    Heard before = heard.get(meaning.device());
    boolean saidBefore = before != null && before.meaning().equals(meaning);
    if (validity == Validity.VALID) {
      heard.put(meaning.device(), new Heard(meaning, origin));
      return saidBefore ? Optional.empty() : Optional.of(meaning.reported());
    }
    return saidBefore ? forget(meaning) : Optional.empty();
  }

  /** A connection is lost: whatever came by it is unknown. */
  public List<Input> lose(String origin) {
    List<Meaning> lost =
        heard.values().stream()
            .filter(last -> last.origin().equals(origin))
            .map(Heard::meaning)
            .toList();
    Stream<Input> forgotten = lost.isEmpty() ? Stream.empty() : undetected.forgetAll();
    return Stream.concat(lost.stream().flatMap(meaning -> forget(meaning).stream()), forgotten)
        .toList();
  }

  /**
   * A connection has gone or come up: what was sent just before, or while there was none, may have
   * reached nobody, and nothing detects it.
   */
  public List<Input> connected() {
    return undetected.forgetAll().toList();
  }

  /**
   * What a report of power makes unknown besides: nothing counts any more that a detector said
   * before the breaker tripped, or while it was tripped.
   */
  public List<Input> losePower(EventId event) {
    Heard before = lineside.districtOf(event).map(any -> heard.get(deviceOf(event))).orElse(null);
    boolean saidBefore = before != null && before.meaning().equals(meanings.get(event));
    return lineside
        .districtOf(event)
        .filter(any -> !saidBefore)
        .map(district -> lose(district.sections()))
        .orElse(List.of());
  }

  private String deviceOf(EventId event) {
    return meanings.get(event).device();
  }

  private List<Input> lose(List<String> sections) {
    return sections.stream()
        .<Meaning>map(id -> new Meaning.SectionIs(id, Occupancy.UNKNOWN))
        .filter(meaning -> heard.containsKey(meaning.device()))
        .flatMap(meaning -> forget(meaning).stream())
        .toList();
  }

  /** A board is lost, or has started anew: whatever it carries is unknown. */
  public List<Input> lose(Board board) {
    return Stream.concat(
            meaningsOf(board)
                .filter(meaning -> heard.containsKey(meaning.device()))
                .flatMap(meaning -> forget(meaning).stream()),
            undetected.forget(board))
        .toList();
  }

  /** The events whose producers tell what a board knows. */
  public List<EventId> reportsOf(Board board) {
    Set<String> devices = meaningsOf(board).map(Meaning::device).collect(Collectors.toSet());
    return meanings.entrySet().stream()
        .filter(entry -> devices.contains(entry.getValue().device()))
        .map(Map.Entry::getKey)
        .toList();
  }

  /** The events that tell a board's signals, lamps and crossings again what they were last told. */
  public List<EventId> signalsAgain(Board board) {
    return Stream.concat(again(board.signals()).stream(), told(lineside.lasting(board.lineside())))
        .toList();
  }

  private Stream<Meaning> meaningsOf(Board board) {
    return Stream.of(
            board.sections().stream().map(id -> new Meaning.SectionIs(id, Occupancy.UNKNOWN)),
            board.switches().stream().map(id -> new Meaning.SwitchIs(id, Position.NORMAL)),
            board.switches().stream().map(id -> new Meaning.LockIs(id, LockState.RELEASED)),
            board.signals().stream().flatMap(this::lampsOf),
            board.lineside().stream().flatMap(device -> lineside.meaningsOf(device).stream()))
        .flatMap(meanings -> meanings);
  }

  private Stream<Meaning> lampsOf(String signal) {
    return layout.signals().get(signal).lights().stream()
        .flatMap(lights -> lights.provings().stream())
        .map(lamp -> new Meaning.LampIs(signal, lamp.id(), true));
  }

  /** Everything is unknown. */
  public List<Input> loseAll() {
    List<Meaning> lost = heard.values().stream().map(Heard::meaning).toList();
    return Stream.concat(
            lost.stream().flatMap(meaning -> forget(meaning).stream()), undetected.forgetAll())
        .toList();
  }

  /** The boards that must be there for an order to be followed by what nothing detects. */
  public List<Board> carriers(EventId order) {
    return undetected.carriers(order);
  }

  /** An order that may have reached nobody: what nothing detects is not assumed to follow it. */
  public List<Input> forget(EventId order) {
    return undetected.forget(order).toList();
  }

  /**
   * The events that tell the field of an output, in order: one, or for a signal whose lamps are
   * switched one by one those of the lamps that change.
   */
  public List<EventId> tell(Output output, long nowNs) {
    if (output instanceof Output.Show show) {
      Signal signal = layout.signals().get(show.signal());
      return signal.lights().isPresent()
          ? light(signal, signal.lights().get().looks().lights(show.aspect()), nowNs)
          : List.of(tell("signal " + show.signal(), signal.shows().get(show.aspect())));
    }
    if (output instanceof Output.Dark dark) {
      Signal signal = layout.signals().get(dark.signal());
      return signal.lights().isPresent()
          ? light(signal, List.of(), nowNs)
          : List.of(tell("signal " + dark.signal(), signal.dark().orElseThrow()));
    }
    return List.of(tell(output));
  }

  /**
   * Every lamp that is to change goes out before any is lit, also one that only begins or ceases to
   * flash: at no moment does a train read more than one of the two aspects allows, since a dark
   * head is read as its most restrictive light (49 CFR 236.23).
   */
  private List<EventId> light(Signal signal, List<Light> lights, long nowNs) {
    List<EventId> out = new ArrayList<>();
    List<EventId> lit = new ArrayList<>();
    for (SignalLamp lamp : signal.lights().orElseThrow().lamps()) {
      Light head = lamp.head() < lights.size() ? lights.get(lamp.head()) : Light.DARK;
      boolean shines = head.colour().equals(Optional.of(lamp.colour()));
      boolean byUs = shines && head.flashing() && lamp.flashing().isEmpty();
      EventId event = shines ? event(lamp, head.flashing()) : lamp.dark();
      boolean flashed = flasher.flashes(lamp);
      EventId before = lastTold(signal, lamp);
      if (byUs == flashed && (flashed || event.equals(before))) {
        continue;
      }
      flasher.turn(lamp, byUs, nowNs);
      told.put(TrackEvents.deviceOf(signal, lamp), event);
      if (!shines || flashed || isLit(lamp, before)) {
        out.add(lamp.dark());
      }
      if (shines) {
        lit.add(event);
      }
    }
    out.addAll(lit);
    return out;
  }

  private EventId lastTold(Signal signal, SignalLamp lamp) {
    return told.get(TrackEvents.deviceOf(signal, lamp));
  }

  private static boolean isLit(SignalLamp lamp, EventId told) {
    return told != null && !told.equals(lamp.dark());
  }

  private static EventId event(SignalLamp lamp, boolean flashing) {
    return flashing ? lamp.flashing().orElse(lamp.lit()) : lamp.lit();
  }

  /** The events of the lamps that the daemon flashes itself, as far as they are due. */
  public List<EventId> flash(long nowNs) {
    List<EventId> events = flasher.due(nowNs);
    events.forEach(event -> told.put(commands.get(event), event));
    return events;
  }

  /** When {@link #flash} is next needed. */
  public OptionalLong flashDueNs() {
    return flasher.nextNs();
  }

  private EventId tell(Output output) {
    if (output instanceof Output.Lock order) {
      ElectricLock lock = layout.switches().get(order.switchId()).lock().orElseThrow();
      return tell("lock of switch " + order.switchId(), lock.to().get(order.state()));
    }
    if (output instanceof Output.OfLineside device) {
      return tell(lineside.deviceOf(device), lineside.eventOf(device));
    }
    Output.Throw move = (Output.Throw) output;
    Switch toe = layout.switches().get(move.switchId());
    return tell("switch " + move.switchId(), toe.to().get(move.position()));
  }

  /**
   * A switch that is sent elsewhere has left its position as far as anyone knows: most boards only
   * report again when it has arrived.
   */
  public List<Input> leave(Output output) {
    if (output instanceof Output.Bolt bolt) {
      return leave(lineside.left(bolt)).stream().toList();
    }
    if (!(output instanceof Output.Throw move)) {
      return List.of();
    }
    return layout.switches().values().stream()
        .filter(toe -> movesBy(move, toe))
        .flatMap(toe -> leave(toe, move.position()).stream())
        .toList();
  }

  /** Ends of a crossover that are sent nothing of their own move with the first. */
  private static boolean movesBy(Output.Throw move, Switch toe) {
    boolean shares = toe.number().equals(move.switchId()) && toe.to().isEmpty();
    return shares || toe.id().equals(move.switchId());
  }

  private Optional<Input> leave(Switch toe, Position position) {
    return leave(new Meaning.SwitchIs(toe.id(), position.opposite()));
  }

  private Optional<Input> leave(Meaning opposite) {
    Heard last = heard.get(opposite.device());
    boolean leaves = last != null && last.meaning().equals(opposite);
    return leaves ? forget(opposite) : Optional.empty();
  }

  /** The events that tell every signal, lamp and crossing again what it was last told. */
  public List<EventId> signalsAgain() {
    return Stream.concat(again(layout.signals().keySet()).stream(), told(lineside.lasting()))
        .toList();
  }

  private Stream<EventId> told(List<String> devices) {
    return devices.stream().flatMap(device -> Optional.ofNullable(told.get(device)).stream());
  }

  private List<EventId> again(Collection<String> signals) {
    return signals.stream().flatMap(id -> again(layout.signals().get(id))).toList();
  }

  /** Lamps that are out come first, as ever. */
  private Stream<EventId> again(Signal signal) {
    List<SignalLamp> lamps = signal.lights().map(Lights::lamps).orElse(List.of());
    Stream<EventId> ofLamps =
        lamps.stream()
            .sorted(Comparator.comparing(lamp -> isLit(lamp, lastTold(signal, lamp))))
            .flatMap(lamp -> Optional.ofNullable(lastTold(signal, lamp)).stream());
    return Stream.concat(Optional.ofNullable(told.get("signal " + signal.id())).stream(), ofLamps);
  }

  private EventId tell(String device, EventId event) {
    told.put(device, event);
    return event;
  }

  private Optional<Input> forget(Meaning meaning) {
    heard.remove(meaning.device());
    return meaning.unknown();
  }

  private static Validity valid(boolean valid) {
    return valid ? Validity.VALID : Validity.INVALID;
  }
}
