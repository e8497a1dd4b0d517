package tappet.rules;

import java.time.Duration;
import java.util.List;
import tappet.source.Place;

/**
 * When a grade crossing warns.
 *
 * @param crossing the crossing
 * @param approaches the ways on which trains come to it
 * @param warning how long the road is warned before a standing train is let go, above 0
 * @param timeOut how long a train may stand in an approach, before a signal, until the crossing
 *     rests again; and how long it may warn for any other reason before a person must look, above 0
 * @param place where the row stands
 */
public record CrossingRow(
    String crossing, List<Approach> approaches, Duration warning, Duration timeOut, Place place) {

  /**
   * One way to the crossing.
   *
   * @param sections its sections, the one next to the island last
   * @param standing those of them in which a train may stand so long that the crossing rests again
   * @param over the routes on which a train comes by it over the road
   */
  public record Approach(List<String> sections, List<String> standing, List<String> over) {

    /** The section next to the island. */
    public String nearest() {
      return sections.get(sections.size() - 1);
    }

    /** All but the section next to the island. */
    public List<String> farther() {
      return sections.subList(0, sections.size() - 1);
    }
  }
}
