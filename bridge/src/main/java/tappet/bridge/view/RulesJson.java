package tappet.bridge.view;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;

/** The rule file as a page shows it: its lines, and what is not so beside the rows it is about. */
public final class RulesJson {

  private final ControlTable table;
  private final Mentions mentions;

  public RulesJson(ControlTable table, Mentions mentions) {
    this.table = table;
    this.mentions = mentions;
  }

  /**
   * What the proof has found.
   *
   * @param word that in a word
   * @param words that in plain words
   * @param open what is not proven, one sentence each
   */
  public record Verdict(String word, String words, List<String> open) {}

  /** The file as a JSON object. */
  public String of(String file, List<String> lines, Verdict verdict, long atMs) {
    Map<Integer, Set<String>> marks = marks(verdict.open());
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          json.writeStringField("file", file);
          json.writeStringField("verdict", verdict.word());
          json.writeStringField("words", verdict.words());
          JsonText.texts("lines", lines, json);
          json.writeObjectFieldStart("marks");
          for (var mark : marks.entrySet()) {
            JsonText.texts(mark.getKey().toString(), mark.getValue(), json);
          }
          json.writeEndObject();
        });
  }

  /** By line: what is not so of the signal or the switch that its row is about. */
  private Map<Integer, Set<String>> marks(List<String> open) {
    Map<Integer, Set<String>> marks = new LinkedHashMap<>();
    for (String property : open) {
      for (Mentions.Mention device : mentions.in(property)) {
        table.routes().values().stream()
            .filter(row -> isAbout(row, device))
            .forEach(
                row ->
                    marks
                        .computeIfAbsent(row.place().line(), line -> new LinkedHashSet<>())
                        .add(property));
      }
    }
    return marks;
  }

  private static boolean isAbout(RouteRow row, Mentions.Mention device) {
    return switch (device.kind()) {
      case "signal" -> row.from().equals(device.id());
      case "switch" -> row.switches().containsKey(device.id());
      case "section" -> row.path().contains(device.id());
      default -> false;
    };
  }
}
