package tappet.bridge.field;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.interlocking.Emergency;
import tappet.interlocking.Input;
import tappet.interlocking.Output;
import tappet.layout.Board;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Signal;
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

  private final LinesideEvents lineside;
  private final Map<EventId, String> commands = new LinkedHashMap<>();
  private final Map<String, EventId> told = new LinkedHashMap<>();

  public Field(Layout layout) {
    this.layout = layout;
    listenTo(Emergency.OFF, "01.00.00.00.00.00.FF.FF", "01.00.00.00.00.00.FF.FE");
    listenTo(Emergency.STOP, "01.00.00.00.00.00.FF.FD", "01.00.00.00.00.00.FF.FC");
    layout.sections().values().forEach(this::listenTo);
    layout.switches().values().forEach(this::listenTo);
    layout.switches().values().forEach(this::speakTo);
    layout.signals().values().forEach(this::speakTo);
    lineside = new LinesideEvents(layout.lineside());
    meanings.putAll(lineside.meanings());
    commands.putAll(lineside.commands());
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
        .filter(entry -> !(entry.getValue() instanceof Meaning.EmergencyIs))
        .filter(entry -> !(entry.getValue() instanceof Meaning.Passes))
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
    boolean happens = meaning instanceof Meaning.EmergencyIs || meaning instanceof Meaning.Passes;
    return happens
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
    if (meaning instanceof Meaning.Passes train) {
      return Optional.of(train.reported()).filter(any -> validity == Validity.VALID);
    }
    Heard before = heard.get(meaning.device());
    boolean saidBefore = before != null && before.meaning().equals(meaning);
    if (validity == Validity.VALID) {
      heard.put(meaning.device(), new Heard(meaning, origin));
      return saidBefore ? Optional.empty() : Optional.of(input(meaning));
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
    return lost.stream().flatMap(meaning -> forget(meaning).stream()).toList();
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
    return meaningsOf(board)
        .filter(meaning -> heard.containsKey(meaning.device()))
        .flatMap(meaning -> forget(meaning).stream())
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
            board.lineside().stream().flatMap(device -> lineside.meaningsOf(device).stream()))
        .flatMap(meanings -> meanings);
  }

  /** Everything is unknown. */
  public List<Input> loseAll() {
    List<Meaning> lost = heard.values().stream().map(Heard::meaning).toList();
    return lost.stream().flatMap(meaning -> forget(meaning).stream()).toList();
  }

  /** The event that tells the field of an output. */
  public EventId tell(Output output) {
    if (output instanceof Output.Show show) {
      return tell("signal " + show.signal(), event(show));
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
  public Optional<Input> leave(Output output) {
    if (output instanceof Output.Bolt bolt) {
      return leave(lineside.left(bolt));
    }
    if (!(output instanceof Output.Throw move)) {
      return Optional.empty();
    }
    return leave(new Meaning.SwitchIs(move.switchId(), move.position().opposite()));
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
    return signals.stream()
        .flatMap(id -> Optional.ofNullable(told.get("signal " + id)).stream())
        .toList();
  }

  private EventId event(Output.Show show) {
    return layout.signals().get(show.signal()).shows().get(show.aspect());
  }

  private EventId tell(String device, EventId event) {
    told.put(device, event);
    return event;
  }

  /** An emergency is never forgotten: it stands until it is cleared. */
  private Optional<Input> forget(Meaning meaning) {
    heard.remove(meaning.device());
    if (meaning instanceof Meaning.SectionIs section) {
      return Optional.of(new Input.SectionReport(section.section(), Occupancy.UNKNOWN));
    }
    if (meaning instanceof Meaning.SwitchIs toe) {
      return Optional.of(new Input.SwitchReport(toe.switchId(), Optional.empty()));
    }
    if (meaning instanceof Meaning.DeviceIs device) {
      return Optional.of(device.lost());
    }
    return Optional.empty();
  }

  private static Input input(Meaning meaning) {
    if (meaning instanceof Meaning.SectionIs section) {
      return new Input.SectionReport(section.section(), section.occupancy());
    }
    if (meaning instanceof Meaning.SwitchIs toe) {
      return new Input.SwitchReport(toe.switchId(), Optional.of(toe.position()));
    }
    if (meaning instanceof Meaning.DeviceIs device) {
      return device.reported();
    }
    Meaning.EmergencyIs emergency = (Meaning.EmergencyIs) meaning;
    return new Input.EmergencyReport(emergency.kind(), emergency.stands());
  }

  /** S-9.7.0.4 §5.2. */
  private void listenTo(Emergency kind, String called, String cleared) {
    meanings.put(EventId.of(called), new Meaning.EmergencyIs(kind, true));
    meanings.put(EventId.of(cleared), new Meaning.EmergencyIs(kind, false));
  }

  private void listenTo(Section section) {
    meanings.put(section.occupied(), new Meaning.SectionIs(section.id(), Occupancy.OCCUPIED));
    meanings.put(section.clear(), new Meaning.SectionIs(section.id(), Occupancy.CLEAR));
  }

  private void listenTo(Switch toe) {
    for (Position position : Position.values()) {
      meanings.put(toe.at().get(position), new Meaning.SwitchIs(toe.id(), position));
    }
  }

  private void speakTo(Switch toe) {
    toe.to().values().forEach(event -> commands.put(event, "switch " + toe.id()));
  }

  private void speakTo(Signal signal) {
    signal.shows().values().forEach(event -> commands.put(event, "signal " + signal.id()));
  }

  private static Validity valid(boolean valid) {
    return valid ? Validity.VALID : Validity.INVALID;
  }
}
