package tappet.bridge.view;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Locale;

/** The last lines of what has happened, to be searched. One thread at a time. */
public final class NewsBook {

  private static final int KEPT_MAX = 2_000;

  private final Deque<News> lines = new ArrayDeque<>();

  /** Takes lines down; the oldest go where there are too many. */
  public void add(List<News> news) {
    lines.addAll(news);
    while (lines.size() > KEPT_MAX) {
      lines.removeFirst();
    }
  }

  /** The lines in which a text stands, in capitals or not, latest first, as a JSON object. */
  public String json(String text, long atMs) {
    String wanted = text.toLowerCase(Locale.ROOT);
    List<News> found =
        lines.stream()
            .filter(line -> line.text().toLowerCase(Locale.ROOT).contains(wanted))
            .toList();
    return JsonText.object(
        json -> {
          json.writeNumberField("at", atMs);
          json.writeArrayFieldStart("news");
          for (int line = found.size() - 1; line >= 0; line--) {
            SightJson.write(found.get(line), json);
          }
          json.writeEndArray();
        });
  }
}
