package tappet.layout;

import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A lamp on the fascia.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param lit the event that lights it
 * @param dark the event that puts it out
 * @param place where it stands in the layout file
 */
public record Lamp(String id, String name, EventId lit, EventId dark, Place place)
    implements LinesideDevice {

  @Override
  public String kind() {
    return "lamp";
  }

  @Override
  public Map<String, EventId> tells() {
    return Map.of();
  }

  @Override
  public Map<String, EventId> told() {
    return Lineside.events("lit", lit, "dark", dark);
  }
}
