package tappet.lcc;

import static java.nio.charset.StandardCharsets.US_ASCII;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;

/** The published vectors in {@code src/test/resources/lcc}, and frames written as text. */
public final class Vectors {

  private static final ObjectMapper JSON = new ObjectMapper();

  private Vectors() {}

  public static JsonNode read(String file) {
    try (InputStream content = Vectors.class.getResourceAsStream("/lcc/" + file)) {
      return JSON.readTree(Objects.requireNonNull(content, file));
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  public static Stream<JsonNode> rows(JsonNode array) {
    return StreamSupport.stream(array.spliterator(), false);
  }

  public static int hex(JsonNode row, String key) {
    return Integer.parseInt(row.get(key).asText(), 16);
  }

  /** The row of that id. */
  public static JsonNode row(JsonNode array, String id) {
    return rows(array)
        .filter(row -> row.get("id").asText().equals(id))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no vector " + id));
  }

  /** The frames of a row, as text. */
  public static String[] texts(JsonNode row) {
    return rows(row.get("frames")).map(JsonNode::asText).toArray(String[]::new);
  }

  /** The one frame that {@code text} is. */
  public static CanFrame frame(String text) {
    List<CanFrame> frames = frames(text);
    if (frames.size() != 1) {
      throw new IllegalArgumentException(text + " is " + frames.size() + " frames, expected 1");
    }
    return frames.get(0);
  }

  public static List<CanFrame> frames(String text) {
    List<CanFrame> frames = new ArrayList<>();
    byte[] bytes = text.getBytes(US_ASCII);
    new FrameTextReader().feed(bytes, 0, bytes.length, frames::add);
    return frames;
  }
}
