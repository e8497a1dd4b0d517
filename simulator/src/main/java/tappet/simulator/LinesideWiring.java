package tappet.simulator;

import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import tappet.layout.Button;
import tappet.layout.GradeCrossing;
import tappet.layout.Lamp;
import tappet.layout.Lineside;
import tappet.layout.Opening;
import tappet.layout.Position;
import tappet.layout.PowerDistrict;
import tappet.lcc.EventId;

/** Wires the gear beside the track to the boards that own its events. */
final class LinesideWiring {

  private final Bus bus;
  private final LinesideGear gear;

  LinesideWiring(Bus bus, LinesideGear gear) {
    this.bus = bus;
    this.gear = gear;
  }

  void wire(Lineside devices) {
    devices.districts().values().forEach(this::wire);
    devices.openings().values().forEach(this::wire);
    devices.lamps().values().forEach(this::wire);
    devices.buttons().values().forEach(this::wire);
    devices.crossings().values().forEach(this::wire);
    devices.spots().values().stream()
        .flatMap(spot -> spot.tells().values().stream())
        .forEach(event -> tells(event, () -> false));
  }

  private void wire(PowerDistrict district) {
    tells(district.tripped(), () -> gear.isTripped(district.id()));
    tells(district.restored(), () -> !gear.isTripped(district.id()));
  }

  private void wire(Opening opening) {
    tells(opening.closed(), () -> !gear.isOpen(opening.id()));
    tells(opening.open(), () -> gear.isOpen(opening.id()));
    opening.lock().ifPresent(lock -> wire(gear.bolt(opening.id()), lock));
  }

  private void wire(SwitchMachine bolt, Opening.Lock lock) {
    tells(lock.locked(), () -> bolt.lies().filter(Position.NORMAL::equals).isPresent());
    tells(lock.unlocked(), () -> bolt.lies().filter(Position.REVERSE::equals).isPresent());
    obeys(
        lock.lock(),
        nowNs -> bolt.call(Position.NORMAL, nowNs),
        () -> bolt.called() == Position.NORMAL);
    obeys(
        lock.unlock(),
        nowNs -> bolt.call(Position.REVERSE, nowNs),
        () -> bolt.called() == Position.REVERSE);
  }

  private void wire(Lamp lamp) {
    obeys(lamp.lit(), nowNs -> gear.light(lamp.id(), true), () -> gear.isLit(lamp.id()));
    obeys(lamp.dark(), nowNs -> gear.light(lamp.id(), false), () -> !gear.isLit(lamp.id()));
  }

  private void wire(Button button) {
    tells(button.pressed(), () -> gear.isPressed(button.id()));
    tells(button.released(), () -> !gear.isPressed(button.id()));
  }

  private void wire(GradeCrossing crossing) {
    String id = crossing.id();
    obeys(crossing.warn(), nowNs -> gear.warn(id, true), () -> gear.isWarning(id));
    obeys(crossing.rest(), nowNs -> gear.warn(id, false), () -> !gear.isWarning(id));
  }

  private void tells(EventId event, BooleanSupplier stands) {
    bus.owner(event).produce(event, stands);
  }

  private void obeys(EventId event, LongConsumer act, BooleanSupplier stands) {
    bus.owner(event).consume(event, act, stands);
  }
}
