package tappet.layout;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import tappet.lcc.EventId;

/**
 * A signal whose lamps are switched one by one.
 *
 * @param looks which lights make up which aspect
 * @param lamps its lamps, from the top head down; every light of its looks is among them
 */
public record Lights(Looks looks, List<SignalLamp> lamps) {

  /** The lamps that shine for an aspect, from the top head down. */
  public List<SignalLamp> shiningFor(String aspect) {
    List<Light> lights = looks.lights(aspect);
    List<SignalLamp> shining = new ArrayList<>();
    for (int head = 0; head < lights.size(); head++) {
      Optional<Colour> colour = lights.get(head).colour();
      int at = head;
      colour.flatMap(lit -> lamp(at, lit)).ifPresent(shining::add);
    }
    return shining;
  }

  /** The lamp of a head and colour. */
  public Optional<SignalLamp> lamp(int head, Colour colour) {
    return lamps.stream()
        .filter(lamp -> lamp.head() == head && lamp.colour() == colour)
        .findFirst();
  }

  /** The proven lamps, each once. */
  public Set<LampProving> provings() {
    Set<LampProving> provings = new LinkedHashSet<>();
    lamps.forEach(lamp -> lamp.proving().ifPresent(provings::add));
    return provings;
  }

  /** Every event that switches a lamp. */
  List<EventId> events() {
    List<EventId> events = new ArrayList<>();
    for (SignalLamp lamp : lamps) {
      events.add(lamp.lit());
      events.add(lamp.dark());
      lamp.flashing().ifPresent(events::add);
    }
    return events;
  }
}
