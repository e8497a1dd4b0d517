package tappet.bridge.view;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.layout.Layout;

/** Finds the devices of which a text speaks, so that a page can mark them. */
public final class Mentions {

  /**
   * A device.
   *
   * @param kind as kinds are called in a {@link Sight}
   */
  public record Mention(String kind, String id) {}

  private static final Pattern DEVICE =
      Pattern.compile(
          "\\b(sections?|switch|derail|signal|district|opening|grade crossing|lamp|spot) "
              + "([A-Za-z0-9-]+(?:, [A-Za-z0-9-]+)*)");

  private final Map<String, Set<String>> known;

  public Mentions(Layout layout) {
    var lineside = layout.lineside();
    known =
        Map.of(
            "section", layout.sections().keySet(),
            "switch", layout.switches().keySet(),
            "signal", layout.signals().keySet(),
            "district", lineside.districts().keySet(),
            "opening", lineside.openings().keySet(),
            "crossing", lineside.crossings().keySet(),
            "lamp", lineside.lamps().keySet(),
            "spot", lineside.spots().keySet());
  }

  /** Every device that is spoken of by its kind and id, once, in the order of the text. */
  public List<Mention> in(String text) {
    Set<Mention> found = new LinkedHashSet<>();
    Matcher matcher = DEVICE.matcher(text);
    while (matcher.find()) {
      String kind = kind(matcher.group(1));
      for (String id : matcher.group(2).split(", ", -1)) {
        if (known.get(kind).contains(id)) {
          found.add(new Mention(kind, id));
        }
      }
    }
    return new ArrayList<>(found);
  }

  private static String kind(String word) {
    return switch (word) {
      case "sections" -> "section";
      case "derail" -> "switch";
      case "grade crossing" -> "crossing";
      default -> word;
    };
  }
}
