package tappet.bridge.conformance;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;

/** The published vectors, each with its source: {@code shared/src/test/resources/lcc}. */
final class Published {

  private static final Path FOLDER = Path.of("..", "shared", "src", "test", "resources", "lcc");

  private Published() {}

  static JsonNode read(String file) throws IOException {
    return new ObjectMapper().readTree(FOLDER.resolve(file).toFile());
  }

  /** The texts of an array. */
  static List<String> texts(JsonNode array) {
    return each(array).map(JsonNode::asText).toList();
  }

  static Stream<JsonNode> each(JsonNode array) {
    return StreamSupport.stream(array.spliterator(), false);
  }
}
