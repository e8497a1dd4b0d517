package tappet.layout;

import java.util.List;
import java.util.Optional;

/**
 * A place that people speak of: a station, a yard, hidden staging. Nothing runs by it; pages show
 * the railroad by it, and territories are made of it.
 *
 * @param id the owner's short name
 * @param name the name for people
 * @param sections what track belongs to it, from west to east; no section belongs to two places
 * @param notes the file with the owner's notes for those who work there, beside the layout file
 * @param hidden whether nobody can see its track
 */
public record NamedPlace(
    String id, String name, List<String> sections, Optional<String> notes, boolean hidden) {

  public NamedPlace {
    sections = List.copyOf(sections);
  }
}
