package tappet.bridge.pages;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.Unpooled;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The files of the pages, from the program itself and from the library they use. Nothing else can
 * be named: a path is letters, digits and hyphens, and no file of the machine is ever opened.
 */
final class StaticFiles {

  private static final Pattern OWN =
      Pattern.compile("/((?:[a-z0-9-]+/){0,3}[a-z0-9-]+\\.(html|css|js|svg|png|webmanifest))");
  private static final Pattern LIBRARY =
      Pattern.compile("/lib/lit-html/((?:directives/)?[a-z-]+\\.(js))");
  private static final String LIBRARY_ROOT = "/META-INF/resources/webjars/lit-html/3.3.2/";

  private static final Map<String, String> TYPES =
      Map.of(
          "html", "text/html; charset=utf-8",
          "css", "text/css; charset=utf-8",
          "js", "text/javascript; charset=utf-8",
          "svg", "image/svg+xml",
          "png", "image/png",
          "webmanifest", "application/manifest+json");

  /** A file as it is sent. */
  static final class Content {
    private final String type;
    private final byte[] bytes;

    /**
     * @param type its media type
     */
    Content(String type, byte[] bytes) {
      this.type = type;
      this.bytes = bytes;
    }

    String type() {
      return type;
    }

    ByteBuf buffer() {
      return Unpooled.wrappedBuffer(bytes);
    }
  }

  private final Map<String, Content> read = new ConcurrentHashMap<>();

  /** The file at a path; empty if there is none. */
  Optional<Content> at(String path) {
    String asked = path.equals("/") ? "/index.html" : path;
    Content known = read.get(asked);
    return known != null ? Optional.of(known) : load(asked);
  }

  private Optional<Content> load(String path) {
    Matcher library = LIBRARY.matcher(path);
    if (library.matches()) {
      return load(path, LIBRARY_ROOT + library.group(1), library.group(2));
    }
    Matcher own = OWN.matcher(path);
    return own.matches() ? load(path, "/page/" + own.group(1), own.group(2)) : Optional.empty();
  }

  private Optional<Content> load(String path, String resource, String ending) {
    try (InputStream found = StaticFiles.class.getResourceAsStream(resource)) {
      if (found == null) {
        return Optional.empty();
      }
      Content content = new Content(TYPES.get(ending), found.readAllBytes());
      read.put(path, content);
      return Optional.of(content);
    } catch (IOException e) {
      throw new UncheckedIOException("a file of the program cannot be read", e);
    }
  }
}
