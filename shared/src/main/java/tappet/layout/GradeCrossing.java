package tappet.layout;

import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A road across the track, with a warning for the road.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param island the section that lies across the road
 * @param warn the event that makes it warn
 * @param rest the event that lets it rest
 * @param place where it stands in the layout file
 */
public record GradeCrossing(
    String id, String name, String island, EventId warn, EventId rest, Place place)
    implements LinesideDevice {

  @Override
  public String kind() {
    return "grade crossing";
  }

  @Override
  public Map<String, EventId> tells() {
    return Map.of();
  }

  @Override
  public Map<String, EventId> told() {
    return Lineside.events("warn", warn, "rest", rest);
  }
}
