package tappet.bridge;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.commonmark.parser.Parser;
import org.commonmark.renderer.html.HtmlRenderer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.layout.Layout;
import tappet.layout.NamedPlace;

/** The owner's notes on places, written in Markdown (CommonMark 0.31.2), as safe HTML. */
final class Notes {

  private static final Logger LOG = LoggerFactory.getLogger(Notes.class);

  /** Longer than anybody reads on a phone. */
  private static final long LENGTH_MAX = 262_144;

  private final Parser parser = Parser.builder().build();

  /** What an owner pastes in from elsewhere may hold anything: HTML is shown, not obeyed. */
  private final HtmlRenderer renderer =
      HtmlRenderer.builder().escapeHtml(true).sanitizeUrls(true).build();

  private final Path folder;

  /**
   * @param folder where the layout file lies
   */
  Notes(Path folder) {
    this.folder = folder;
  }

  /** The notes by place. One that cannot be read is told in its stead. */
  Map<String, String> of(Layout layout) {
    Map<String, String> notes = new LinkedHashMap<>();
    layout.places().forEach((id, place) -> html(place).ifPresent(html -> notes.put(id, html)));
    return notes;
  }

  private Optional<String> html(NamedPlace place) {
    return place.notes().map(file -> renderer.render(parser.parse(text(file))));
  }

  private String text(String file) {
    Path found = folder.resolve(file);
    try {
      if (Files.size(found) > LENGTH_MAX) {
        return told(file, "it is longer than %d bytes".formatted(LENGTH_MAX));
      }
      return Files.readString(found, StandardCharsets.UTF_8);
    } catch (IOException e) {
      return told(file, e.toString());
    }
  }

  private static String told(String file, String why) {
    LOG.warn("The notes {} cannot be read: {}", file, why);
    return "The notes in `%s` cannot be read.".formatted(file);
  }
}
