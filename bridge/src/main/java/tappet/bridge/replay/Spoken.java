package tappet.bridge.replay;

import java.util.LinkedHashMap;
import java.util.Map;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.layout.Switch;
import tappet.lcc.EventId;

/** What the events mean by which the box tells devices what to do, in the owner's words. */
final class Spoken {

  /**
   * What an event tells.
   *
   * @param id whom to ask why; empty where nobody can say
   * @param device the device, for people
   * @param what it is to do, for people
   */
  record Said(String id, String device, String what) {}

  private static final String CLOCK = "the layout's clock";

  private final Map<EventId, Said> events = new LinkedHashMap<>();

  Spoken(Layout layout) {
    layout.signals().values().forEach(this::add);
    layout.switches().values().forEach(this::add);
    layout
        .lineside()
        .devices()
        .forEach(
            device ->
                device
                    .told()
                    .forEach(
                        (word, event) ->
                            events.put(
                                event,
                                new Said(
                                    device.id(),
                                    words(device.kind(), device.name(), device.id()),
                                    word))));
  }

  /** Whether a device of the field is told by this event. */
  boolean isOrder(EventId event) {
    return events.containsKey(event);
  }

  /** What an event of the box tells; any that is for no device is the clock's. */
  Said of(EventId event) {
    return events.getOrDefault(event, new Said("clock", CLOCK, "event " + event));
  }

  private void add(Signal signal) {
    String words = words("signal", signal.name(), signal.id());
    signal
        .shows()
        .forEach(
            (aspect, event) ->
                events.put(event, new Said(signal.id(), words, signal.called(aspect))));
    signal.dark().ifPresent(event -> events.put(event, new Said(signal.id(), words, "dark")));
    signal
        .lights()
        .ifPresent(lights -> lights.lamps().forEach(lamp -> add(signal.id(), words, lamp)));
  }

  private void add(String signal, String words, SignalLamp lamp) {
    String device = "lamp " + lamp.id() + " of " + words;
    events.put(lamp.lit(), new Said(signal, device, "lit"));
    events.put(lamp.dark(), new Said(signal, device, "out"));
    lamp.flashing().ifPresent(event -> events.put(event, new Said(signal, device, "flashing")));
  }

  private void add(Switch toe) {
    String words = words("switch", toe.name(), toe.id());
    toe.to().forEach((to, event) -> events.put(event, new Said(toe.id(), words, to.word())));
    toe.lock()
        .ifPresent(
            lock ->
                lock.to()
                    .forEach(
                        (to, event) ->
                            events.put(event, new Said(toe.id(), "lock of " + words, to.word()))));
  }

  private static String words(String kind, String name, String id) {
    return name.equals(id) ? kind + " " + id : "%s %s (%s)".formatted(kind, name, id);
  }
}
