package tappet.bridge.field;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import tappet.interlocking.Input;
import tappet.interlocking.Output;
import tappet.layout.Button;
import tappet.layout.Lineside;
import tappet.layout.LinesideDevice;
import tappet.layout.Opening;
import tappet.layout.PowerDistrict;
import tappet.layout.SpotDetector;
import tappet.lcc.EventId;
import tappet.sentence.Command.Heading;

/** What events mean to and from the devices that are neither sections, switches nor signals. */
final class LinesideEvents {

  private final Lineside devices;
  private final Map<EventId, Meaning> meanings = new LinkedHashMap<>();
  private final Map<EventId, String> commands = new LinkedHashMap<>();
  private final Map<String, List<Meaning>> byDevice = new LinkedHashMap<>();
  private final Map<EventId, PowerDistrict> districts = new LinkedHashMap<>();

  LinesideEvents(Lineside devices) {
    this.devices = devices;
    devices.districts().values().forEach(this::listenTo);
    devices.openings().values().forEach(this::listenTo);
    devices.buttons().values().forEach(this::listenTo);
    devices.spots().values().forEach(this::listenTo);
    devices
        .devices()
        .forEach(
            device -> device.told().values().forEach(event -> commands.put(event, device.key())));
  }

  /** What each event from these devices says. */
  Map<EventId, Meaning> meanings() {
    return meanings;
  }

  /** By each event to these devices: which one it is for. */
  Map<EventId, String> commands() {
    return commands;
  }

  /** Everything that a device can be known to be. */
  List<Meaning> meaningsOf(LinesideDevice device) {
    return byDevice.getOrDefault(device.key(), List.of());
  }

  /** The power district whose breaker an event tells of. */
  Optional<PowerDistrict> districtOf(EventId event) {
    return Optional.ofNullable(districts.get(event));
  }

  /** The device that an output is for. */
  String deviceOf(Output.OfLineside output) {
    return commands.get(eventOf(output));
  }

  /** The event that tells it. */
  EventId eventOf(Output.OfLineside output) {
    if (output instanceof Output.Light light) {
      var lamp = devices.lamps().get(light.lamp());
      return light.lit() ? lamp.lit() : lamp.dark();
    }
    if (output instanceof Output.Warn warn) {
      var crossing = devices.crossings().get(warn.crossing());
      return warn.warns() ? crossing.warn() : crossing.rest();
    }
    Output.Bolt bolt = (Output.Bolt) output;
    var lock = lockOf(bolt);
    return bolt.locked() ? lock.lock() : lock.unlock();
  }

  /** What a bolt that is sent elsewhere no longer is, as far as anyone knows. */
  Meaning left(Output.Bolt bolt) {
    var lock = lockOf(bolt);
    return meanings.get(bolt.locked() ? lock.unlocked() : lock.locked());
  }

  private Opening.Lock lockOf(Output.Bolt bolt) {
    return devices.openings().get(bolt.opening()).lock().orElseThrow();
  }

  /** What holds until it is told anew: told again to a board that has forgotten it. */
  List<String> lasting(List<LinesideDevice> some) {
    return some.stream()
        .filter(device -> !(device instanceof Opening))
        .map(LinesideDevice::key)
        .toList();
  }

  /** The same of all devices. */
  List<String> lasting() {
    return lasting(devices.devices());
  }

  private void listenTo(PowerDistrict district) {
    districts.put(district.tripped(), district);
    districts.put(district.restored(), district);
    listenTo(
        district,
        district.key(),
        district.tripped(),
        district.restored(),
        tripped -> new Input.DistrictReport(district.id(), tripped));
  }

  private void listenTo(Opening opening) {
    listenTo(
        opening,
        opening.key(),
        opening.closed(),
        opening.open(),
        closed -> new Input.OpeningReport(opening.id(), closed));
    opening
        .lock()
        .ifPresent(
            lock ->
                listenTo(
                    opening,
                    "lock of " + opening.key(),
                    lock.locked(),
                    lock.unlocked(),
                    locked -> new Input.BoltReport(opening.id(), locked)));
  }

  /** A device with two states, each of which one event tells. */
  private void listenTo(
      LinesideDevice device,
      String key,
      EventId yes,
      EventId no,
      Function<Optional<Boolean>, Input> report) {
    Input lost = report.apply(Optional.empty());
    for (boolean state : new boolean[] {true, false}) {
      Input input = report.apply(Optional.of(state));
      note(device, state ? yes : no, new Meaning.DeviceIs(key, input, input, lost));
    }
  }

  /** A button that is found pressed has not been pressed just now. */
  private void listenTo(Button button) {
    for (boolean pressed : new boolean[] {true, false}) {
      var is = Optional.of(pressed);
      note(
          button,
          pressed ? button.pressed() : button.released(),
          new Meaning.DeviceIs(
              button.key(),
              new Input.ButtonReport(button.id(), is, true),
              new Input.ButtonReport(button.id(), is, false),
              new Input.ButtonReport(button.id(), Optional.empty(), false)));
    }
  }

  private void note(LinesideDevice device, EventId event, Meaning meaning) {
    meanings.put(event, meaning);
    byDevice.computeIfAbsent(device.key(), any -> new ArrayList<>()).add(meaning);
  }

  private void listenTo(SpotDetector spot) {
    spot.tells()
        .forEach(
            (word, event) ->
                meanings.put(
                    event,
                    new Meaning.Passes(
                        spot.key(), new Input.SpotReport(spot.id(), heading(word)))));
  }

  private static Optional<Heading> heading(String word) {
    return switch (word) {
      case SpotDetector.EAST -> Optional.of(Heading.EAST);
      case SpotDetector.WEST -> Optional.of(Heading.WEST);
      default -> Optional.empty();
    };
  }
}
