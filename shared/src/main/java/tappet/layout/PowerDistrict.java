package tappet.layout;

import java.util.List;
import java.util.Map;
import tappet.lcc.EventId;
import tappet.source.Place;

/**
 * The track behind one breaker. While the breaker is tripped, or nothing is known of it, what the
 * detectors of its sections say is worth nothing.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param sections the sections that it feeds
 * @param tripped the event a board sends when the breaker has tripped
 * @param restored the event a board sends when there is power again
 * @param place where it stands in the layout file
 */
public record PowerDistrict(
    String id, String name, List<String> sections, EventId tripped, EventId restored, Place place)
    implements LinesideDevice {

  @Override
  public String kind() {
    return "power district";
  }

  @Override
  public Map<String, EventId> tells() {
    return Lineside.events("tripped", tripped, "restored", restored);
  }

  @Override
  public Map<String, EventId> told() {
    return Map.of();
  }
}
