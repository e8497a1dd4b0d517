package tappet.bridge.field;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.interlocking.Emergency;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.layout.Switch;
import tappet.lcc.EventId;
import tappet.sentence.Condition.Occupancy;

/** What events mean to and from sections, switches and signals, and those that are of all nodes. */
final class TrackEvents {

  private final Map<EventId, Meaning> meanings = new LinkedHashMap<>();
  private final Map<EventId, String> commands = new LinkedHashMap<>();

  TrackEvents(Layout layout) {
    listenTo(Emergency.OFF, "01.00.00.00.00.00.FF.FF", "01.00.00.00.00.00.FF.FE");
    listenTo(Emergency.STOP, "01.00.00.00.00.00.FF.FD", "01.00.00.00.00.00.FF.FC");
    layout.sections().values().forEach(this::listenTo);
    layout.switches().values().forEach(this::listenTo);
    layout.switches().values().forEach(this::speakTo);
    layout.signals().values().forEach(this::listenTo);
    layout.signals().values().forEach(this::speakTo);
  }

  /** What each event from these devices says. */
  Map<EventId, Meaning> meanings() {
    return meanings;
  }

  /** By each event to these devices: which one it is for. */
  Map<EventId, String> commands() {
    return commands;
  }

  /** A lamp of a signal as a device of its own. */
  static String deviceOf(Signal signal, SignalLamp lamp) {
    return "signal " + signal.id() + ": " + lamp.id();
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
    String id = toe.id();
    toe.at().forEach((at, event) -> meanings.put(event, new Meaning.SwitchIs(id, at)));
    toe.working()
        .asks()
        .forEach((to, event) -> meanings.put(event, new Meaning.SwitchAsked(id, to)));
    toe.lock()
        .ifPresent(
            lock ->
                lock.at().forEach((is, event) -> meanings.put(event, new Meaning.LockIs(id, is))));
  }

  private void listenTo(Signal signal) {
    signal
        .lights()
        .ifPresent(
            lights ->
                lights
                    .provings()
                    .forEach(
                        lamp -> {
                          meanings.put(
                              lamp.failed(), new Meaning.LampIs(signal.id(), lamp.id(), false));
                          meanings.put(
                              lamp.works(), new Meaning.LampIs(signal.id(), lamp.id(), true));
                        }));
  }

  private void speakTo(Switch toe) {
    toe.to().values().forEach(event -> commands.put(event, "switch " + toe.id()));
    toe.lock()
        .ifPresent(
            lock ->
                lock.to()
                    .values()
                    .forEach(event -> commands.put(event, "lock of switch " + toe.id())));
  }

  private void speakTo(Signal signal) {
    signal.shows().values().forEach(event -> commands.put(event, "signal " + signal.id()));
    signal.dark().ifPresent(event -> commands.put(event, "signal " + signal.id()));
    List<SignalLamp> lamps = signal.lights().map(Lights::lamps).orElse(List.of());
    lamps.forEach(lamp -> speakTo(lamp, deviceOf(signal, lamp)));
  }

  private void speakTo(SignalLamp lamp, String device) {
    commands.put(lamp.lit(), device);
    commands.put(lamp.dark(), device);
    lamp.flashing().ifPresent(event -> commands.put(event, device));
  }
}
