package tappet.simulator;

import tappet.layout.ElectricLock;
import tappet.layout.LampProving;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.layout.Switch;
import tappet.lcc.EventId;

/** Wires what stands beside the track to the boards that own its events. */
final class Wiring {

  /** What a signal without any light shows. */
  static final String DARK = "dark";

  private final Bus bus;
  private final Trackside trackside;
  private final Traffic traffic;

  Wiring(Bus bus, Trackside trackside, Traffic traffic) {
    this.bus = bus;
    this.trackside = trackside;
    this.traffic = traffic;
  }

  void wire(Layout layout) {
    layout.sections().values().forEach(this::wire);
    layout.switches().values().forEach(this::wire);
    layout.signals().values().forEach(this::wire);
    new LinesideWiring(bus, trackside.gear()).wire(layout.lineside());
    new HeartbeatWiring(bus, trackside, traffic::wake).wire(layout);
  }

  private void wire(Section section) {
    String id = section.id();
    bus.owner(section.occupied()).produce(section.occupied(), () -> trackside.occupied(id));
    bus.owner(section.clear()).produce(section.clear(), () -> !trackside.occupied(id));
  }

  private void wire(Switch toe) {
    toe.to().forEach((position, event) -> wireMotor(toe.id(), position, event));
    toe.at().forEach((position, event) -> wireContact(toe.id(), position, event));
    toe.working().asks().values().forEach(event -> bus.owner(event).produce(event, () -> false));
    toe.lock().ifPresent(lock -> wire(toe.id(), lock));
  }

  private void wire(String toe, ElectricLock lock) {
    lock.to()
        .forEach(
            (state, event) ->
                bus.owner(event)
                    .consume(
                        event,
                        nowNs -> trackside.callLock(toe, state, nowNs),
                        () -> trackside.lock(toe).called() == state));
    lock.at()
        .forEach(
            (state, event) ->
                bus.owner(event).produce(event, () -> trackside.lock(toe).state() == state));
  }

  private void wireMotor(String toe, Position position, EventId event) {
    bus.owner(event)
        .consume(
            event,
            nowNs -> call(toe, position, nowNs),
            () -> trackside.machine(toe).called() == position);
  }

  private void wireContact(String toe, Position position, EventId event) {
    bus.owner(event)
        .produce(event, () -> trackside.switchLies(toe).filter(position::equals).isPresent());
  }

  private void wire(Signal signal) {
    signal.shows().forEach((aspect, event) -> wireAspect(signal.id(), aspect, event));
    signal.dark().ifPresent(event -> wireAspect(signal.id(), DARK, event));
    signal.lights().ifPresent(lights -> wire(signal.id(), lights));
  }

  private void wire(String signal, Lights lights) {
    for (SignalLamp lamp : lights.lamps()) {
      wireLamp(signal, lamp, LampPost.State.LIT, lamp.lit());
      wireLamp(signal, lamp, LampPost.State.DARK, lamp.dark());
      lamp.flashing().ifPresent(event -> wireLamp(signal, lamp, LampPost.State.FLASHING, event));
    }
    lights.provings().forEach(lamp -> wireProving(signal, lamp));
  }

  private void wireLamp(String signal, SignalLamp lamp, LampPost.State state, EventId event) {
    bus.owner(event)
        .consume(
            event,
            nowNs -> light(signal, lamp, state, nowNs),
            () -> trackside.lampPost(signal).state(lamp) == state);
  }

  private void wireProving(String signal, LampProving lamp) {
    LampPost post = trackside.lampPost(signal);
    bus.owner(lamp.failed()).produce(lamp.failed(), () -> post.isOut(lamp));
    bus.owner(lamp.works()).produce(lamp.works(), () -> !post.isOut(lamp));
  }

  private void wireAspect(String signal, String aspect, EventId event) {
    bus.owner(event)
        .consume(
            event,
            nowNs -> show(signal, aspect, nowNs),
            () -> trackside.aspect(signal).equals(aspect));
  }

  private void call(String toe, Position position, long nowNs) {
    trackside.call(toe, position, nowNs);
    traffic.wake(nowNs);
  }

  private void light(String signal, SignalLamp lamp, LampPost.State state, long nowNs) {
    trackside.light(signal, lamp, state, nowNs);
    traffic.wake(nowNs);
  }

  private void show(String signal, String aspect, long nowNs) {
    trackside.show(signal, aspect);
    traffic.wake(nowNs);
  }
}
