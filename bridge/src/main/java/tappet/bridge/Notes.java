package tappet.bridge;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.commonmark.parser.Parser;
import org.commonmark.renderer.html.HtmlRenderer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.layout.Layout;

/**
 * The owner's notes on places, written in Markdown (CommonMark 0.31.2), as safe HTML. They are read
 * at once, so that what is wrong is told at once, and made into HTML for who asks.
 */
final class Notes {

  private static final Logger LOG = LoggerFactory.getLogger(Notes.class);

  /** Longer than anybody reads on a phone. */
  private static final long LENGTH_MAX = 262_144;

  private final Map<String, String> texts = new HashMap<>();

  /**
   * Reads the notes on the places of a layout. One that cannot be read is told in its stead.
   *
   * @param folder where the layout file lies
   */
  Notes(Layout layout, Path folder) {
    layout
        .places()
        .forEach((id, place) -> place.notes().ifPresent(file -> texts.put(id, text(folder, file))));
  }

  /** The notes on a place, if there are any. */
  Optional<String> of(String place) {
    return Optional.ofNullable(texts.get(place)).map(Notes::html);
  }

  /** What an owner pastes in from elsewhere may hold anything: HTML is shown, not obeyed. */
  private static String html(String text) {
    return HtmlRenderer.builder()
        .escapeHtml(true)
        .sanitizeUrls(true)
        .build()
        .render(Parser.builder().build().parse(text));
  }

  private static String text(Path folder, String file) {
    try {
      Path found = folder.resolve(file);
      if (Files.size(found) > LENGTH_MAX) {
        return told(file, "it is longer than %d bytes".formatted(LENGTH_MAX));
      }
      return Files.readString(found, StandardCharsets.UTF_8);
    } catch (IOException | InvalidPathException e) {
      return told(file, e.toString());
    }
  }

  private static String told(String file, String why) {
    LOG.warn("The notes {} cannot be read: {}", file, why);
    return "The notes in `%s` cannot be read.".formatted(file);
  }
}
