package tappet.layout;

import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * A detector of one spot, such as a light across the track.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param at the joint it stands at
 * @param tells the event a board sends when a train passes, under {@value #PASSED}; or one for each
 *     direction, under {@value #EAST} and {@value #WEST}
 * @param place where it stands in the layout file
 */
public record SpotDetector(
    String id, String name, String at, Map<String, EventId> tells, Place place)
    implements LinesideDevice {

  /** The word for a train that passes either way. */
  public static final String PASSED = "passed";

  /** The word for a train that passes eastward. */
  public static final String EAST = "east";

  /** The word for a train that passes westward. */
  public static final String WEST = "west";

  @Override
  public String kind() {
    return "spot";
  }

  @Override
  public Map<String, EventId> told() {
    return Map.of();
  }
}
