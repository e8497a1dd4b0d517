package tappet.bridge.replay;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Position;
import tappet.lcc.EventId;
import tappet.sentence.Happening.Reporter;
import tappet.simulator.ReportedEvents;

/** What the field's devices tell by their events, as the happenings of scenarios. */
final class FieldSentences {

  /** What the events of S-9.7.0.4 §5.2 call and clear. */
  private static final Map<String, String> EMERGENCIES =
      Map.of(
          "01.00.00.00.00.00.FF.FF", "emergency off is called",
          "01.00.00.00.00.00.FF.FE", "emergency off is cleared",
          "01.00.00.00.00.00.FF.FD", "emergency stop is called",
          "01.00.00.00.00.00.FF.FC", "emergency stop is cleared");

  /**
   * What an event says.
   *
   * @param device whatever says only one thing at a time; empty for what is of a moment
   * @param sentence what happens
   * @param place where it stands among what the device can say, from 0
   * @param unknown what happens when the device no longer says so, nor anything else; empty where
   *     no sentence tells that
   */
  record Told(String device, String sentence, int place, Optional<String> unknown) {

    /** Whether it is of a moment, and no state. */
    boolean isMoment() {
      return device.isEmpty();
    }
  }

  private final Map<EventId, Told> events = new LinkedHashMap<>();
  private final Map<String, String> reporters = new LinkedHashMap<>();

  FieldSentences(Layout layout) {
    var lineside = layout.lineside();
    addAll(layout, Reporter.SECTION, layout.sections().keySet());
    addAll(layout, Reporter.SWITCH, layout.switches().keySet());
    addAll(layout, Reporter.LOCK, layout.switches().keySet());
    addAll(layout, Reporter.OPENING, lineside.openings().keySet());
    addAll(layout, Reporter.BOLT, lineside.openings().keySet());
    addAll(layout, Reporter.BREAKER, lineside.districts().keySet());
    for (var spot : lineside.spots().values()) {
      spot.tells().forEach((way, event) -> moment(event, "spot %s reports %s", spot.id(), way));
    }
    for (var toe : layout.switches().values()) {
      for (Map.Entry<Position, EventId> ask : toe.working().asks().entrySet()) {
        moment(ask.getValue(), "crew asks for %s %s", toe.id(), ask.getKey().word());
      }
    }
    for (var button : lineside.buttons().values()) {
      button.tells().forEach((is, event) -> state(event, "button " + button.id(), " is " + is));
    }
    for (var signal : layout.signals().values()) {
      for (var lamp : signal.lights().map(Lights::provings).orElse(Set.of())) {
        String device = "lamp %s of %s".formatted(name(lamp.id()), name(signal.id()));
        state(lamp.failed(), device, " burns out");
        state(lamp.works(), device, " is replaced");
      }
    }
    EMERGENCIES.forEach(
        (event, sentence) ->
            events.put(EventId.of(event), new Told("", sentence, 0, Optional.empty())));
  }

  /** What an event says; empty if no device says it. */
  Optional<Told> of(EventId event) {
    return Optional.ofNullable(events.get(event));
  }

  /** By each device that reports its state: the sentence that it reports nothing. */
  Map<String, String> silent() {
    return reporters;
  }

  private void addAll(Layout layout, Reporter reporter, Collection<String> ids) {
    for (String id : ids) {
      String device = reporter.words() + " " + name(id);
      Map<String, EventId> told = ReportedEvents.of(layout, reporter, id);
      String nothing = device + " reports nothing";
      int place = 0;
      for (Map.Entry<String, EventId> says : told.entrySet()) {
        String sentence = device + " reports " + says.getKey();
        events.put(says.getValue(), new Told(device, sentence, place++, Optional.of(nothing)));
      }
      if (!told.isEmpty()) {
        reporters.put(device, nothing);
      }
    }
  }

  private void moment(EventId event, String sentence, String id, String word) {
    events.put(event, new Told("", sentence.formatted(name(id), word), 0, Optional.empty()));
  }

  private void state(EventId event, String device, String is) {
    events.put(event, new Told(device, device + is, 0, Optional.empty()));
  }

  /** A name as sentences have it: in quotes unless it is one plain word. */
  static String name(String name) {
    return name.matches("[A-Za-z0-9]+(-[A-Za-z0-9]+)*") ? name : "'" + name + "'";
  }
}
