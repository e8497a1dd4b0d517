package tappet.simulator.session;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

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
import org.junit.jupiter.params.provider.ValueSource;
import tappet.source.WrongFiles;

/** The schema that editors use says the same about the shape of a train list as the reader does. */
class SessionSchemaTest {

  private static final Path SCHEMA = Demo.CONFIG.resolve("schema").resolve("session.schema.json");
  private static final WrongFiles WRONG = WrongFiles.inResources("wrong-sessions", "simulator");

  private static Schema schema;

  @BeforeAll
  static void readSchema() throws IOException {
    schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(Files.readString(SCHEMA), InputFormat.JSON);
  }

  @Test
  void listOfTheDemoFitsTheSchema() throws IOException {
    assertEquals(List.of(), errors(Demo.trainList()));
  }

  /** Those that are wrong in their shape; what a name means no schema can know. */
  @ParameterizedTest
  @ValueSource(strings = {"no-trains", "misspelt-keys", "odd-values", "when", "empty-list"})
  void mistakeOfShapeDoesNotFitTheSchema(String name) throws IOException {
    assertFalse(errors(Files.readString(WRONG.named(name))).isEmpty());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "length: 12",
        "length: 1 m, speed: 0",
        "length: 1 m, then: go back",
        "length: 1 m, again: often",
        "length: 1 m, after: Other",
        "length: 1 m, calls: [{work: 5 min}]",
        "length: 1 m, calls: [{at: here, work: 5}]",
        "length: 1 m, calls: [{at: here, permit: there}]",
      })
  void trainThatTheReaderRefusesDoesNotFit(String keys) {
    assertFalse(errors(list(keys)).isEmpty());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "length: 1 m",
        "length: 10 in, speed: 0.25, then: goes back and is lifted, again: 90 min",
        "length: 1 m, calls: [{at: here}, {at: there, work: 5 min, permit: [a, b], release: q}]",
      })
  void trainThatTheReaderTakesFits(String keys) {
    assertEquals(List.of(), errors(list(keys)));
  }

  /** A name that is defined twice would silently mean the second. */
  @Test
  void schemaDefinesNoNameTwice() {
    var strict = JsonMapper.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();
    assertDoesNotThrow(() -> strict.readTree(SCHEMA.toFile()));
  }

  private static String list(String keys) {
    return """
    session: One train
    clock: {rate: 4, time: 06:00}
    trains: [{train: Local, from: a, to: b, at: 06:00, %s}]
    """
        .formatted(keys);
  }

  private static List<Error> errors(String text) {
    return schema.validate(text, InputFormat.YAML);
  }
}
