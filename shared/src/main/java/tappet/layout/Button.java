package tappet.layout;

import java.time.Duration;
import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A push button on the fascia, or a slide switch: pressed is one of its two positions.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param pressed the event a board sends when it is pressed
 * @param released the event a board sends when it is released
 * @param steady how long it must be so before it counts, above 0: contacts bounce
 * @param place where it stands in the layout file
 */
public record Button(
    String id, String name, EventId pressed, EventId released, Duration steady, Place place)
    implements LinesideDevice {

  @Override
  public String kind() {
    return "button";
  }

  @Override
  public Map<String, EventId> tells() {
    return Lineside.events("pressed", pressed, "released", released);
  }

  @Override
  public Map<String, EventId> told() {
    return Map.of();
  }
}
