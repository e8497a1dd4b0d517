package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.source.WrongFiles;

/**
 * The schema that editors use says the same about the shape of a layout file as the reader does.
 */
class LayoutSchemaTest {

  private static final Path CONFIG = Path.of("..", "config");
  private static final WrongFiles WRONG = WrongFiles.inResources("wrong-layouts", "shared");

  private static Schema schema;

  @BeforeAll
  static void readSchema() throws IOException {
    var text = Files.readString(CONFIG.resolve("schema").resolve("layout.schema.json"));
    schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(text, InputFormat.JSON);
  }

  @ParameterizedTest
  @ValueSource(strings = {"demo", "starter"})
  void layoutInConfigFitsTheSchema(String folder) throws IOException {
    assertEquals(List.of(), errors(CONFIG.resolve(folder).resolve("layout.yaml")));
  }

  /** A name that is defined twice would silently mean the second. */
  @ParameterizedTest
  @ValueSource(strings = {"layout", "rules", "tappet"})
  void noSchemaDefinesANameTwice(String name) throws IOException {
    var strict = JsonMapper.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();
    var file = CONFIG.resolve("schema").resolve(name + ".schema.json");
    assertDoesNotThrow(() -> strict.readTree(file.toFile()));
  }

  @Test
  void whatTheReaderAcceptsFitsTheSchema() {
    assertEquals(List.of(), schema.validate(TinyLayout.TEXT, InputFormat.YAML));
    assertEquals(List.of(), schema.validate(CrossedLayout.TEXT, InputFormat.YAML));
  }

  // The reader's own words about these files are beside them.
  @ParameterizedTest
  @CsvSource({
    "unknown-version, const, /layout",
    "no-version, required, ''",
    "list-instead-of-keys, type, ''",
    "misspelt-key, additionalProperties, /sections/os",
    "misspelt-top-key, additionalProperties, ''",
    "unknown-key, additionalProperties, /sections/os",
    "missing-keys, required, /switches/s1",
    "joint-with-one-number, minItems, /joints/a",
    "joint-with-a-word, type, /joints/a/1",
    "section-from-and-to-one-joint, uniqueItems, /sections/main/between",
    "section-with-three-ends, maxItems, /sections/main/between",
    "length-without-unit, type, /sections/main/length",
    "length-with-comma, pattern, /sections/main/length",
    "event-too-short, pattern, /sections/os/occupied",
    "event-not-hexadecimal, pattern, /sections/os/occupied",
    "switch-lacks-a-position, required, /switches/s1/to",
    "switch-without-detection, required, /switches/s1",
    "throw-time-without-unit, type, /switches/s1/throw time",
    "signal-without-stop, required, /signals/e2/shows",
    "control-misspelt, enum, /switches/s1/control",
    "released-without-lock, required, /switches/s1",
    "lock-lacks-an-event, required, /switches/s1/lock/to",
    "local-without-control, required, /switches/s1",
    "too-many-tries, maximum, /switches/s1/tries",
    "hand-thrown-assumed, required, /switches/s1",
    "derail-with-the-name-of-a-switch, additionalProperties, /derails/s1",
    "name-with-a-space, propertyNames, /sections",
    "looks-lack-stop, required, /looks/one",
    "light-of-no-colour, pattern, /looks/one/approach/0",
    "lamps-and-shows, oneOf, /signals/e2",
    "lamps-without-looks, oneOf, /signals/e2",
    "lamp-missing, additionalProperties, /signals/e2/lamps/0",
    "lamp-proved-by-half, dependentRequired, /signals/e2/lamps/0/red",
    "signal-kind-and-heads-misspelt, enum, /signals/e2/kind",
    "power-districts, required, /districts/west",
    "power-districts, additionalProperties, /districts/east",
    "openings, enum, /openings/doorway/kind",
    "openings, minItems, /openings/gap/sections",
    "openings, dependentRequired, /openings/gap",
    "openings, dependentRequired, /openings/bridge",
    "openings, required, /openings/bridge/to",
    "lamps-and-buttons, additionalProperties, /lamps/green",
    "lamps-and-buttons, propertyNames, /buttons",
    "spots, oneOf, /spots/bell",
    "spots, oneOf, /spots/none",
    "grade-crossings, required, /grade crossings/lane",
    "diamond-with-one-track, minItems, /diamonds/x1/tracks",
    "diamond-with-wrong-names, required, /diamonds/x1",
    "diamond-with-wrong-names, maxItems, /diamonds/x2/tracks/0",
  })
  void mistakeOfShapeDoesNotFitTheSchema(String name, String keyword, String where)
      throws IOException {
    var errors = errors(WRONG.named(name));
    assertTrue(
        errors.stream()
            .anyMatch(
                error ->
                    error.getKeyword().equals(keyword)
                        && error.getInstanceLocation().toString().equals(where)),
        errors::toString);
  }

  private static List<Error> errors(Path file) throws IOException {
    return schema.validate(Files.readString(file), InputFormat.YAML);
  }
}
