package tappet.layout;

import java.util.List;
import tappet.lcc.NodeId;
import tappet.source.Place;

/**
 * A board on the bus that is watched: if it stops answering, what it carries is unknown.
 *
 * @param id the owner's identifier
 * @param name the owner's name for people, the id where none was given
 * @param node its node id
 * @param sections the sections it reports
 * @param switches the switches it moves and reports
 * @param signals the signals it shows
 * @param lineside the other devices it reports or works
 * @param place where it stands in the layout file
 */
public record Board(
    String id,
    String name,
    NodeId node,
    List<String> sections,
    List<String> switches,
    List<String> signals,
    List<LinesideDevice> lineside,
    Place place) {

  /** A board of sections, switches and signals alone. */
  public Board(
      String id,
      String name,
      NodeId node,
      List<String> sections,
      List<String> switches,
      List<String> signals,
      Place place) {
    this(id, name, node, sections, switches, signals, List.of(), place);
  }

  /** What it carries, in an owner's words: {@code sections a, b; switch t1}. */
  public String load() {
    StringBuilder words = new StringBuilder();
    append(words, sections, "section", "sections");
    append(words, switches, "switch", "switches");
    append(words, signals, "signal", "signals");
    lineside.forEach(device -> words.append(words.isEmpty() ? "" : "; ").append(device.key()));
    return words.isEmpty() ? "nothing" : words.toString();
  }

  private static void append(StringBuilder words, List<String> ids, String one, String many) {
    if (!ids.isEmpty()) {
      words
          .append(words.isEmpty() ? "" : "; ")
          .append(ids.size() == 1 ? one : many)
          .append(' ')
          .append(String.join(", ", ids));
    }
  }
}
