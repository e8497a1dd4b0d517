package tappet.simulator.scenario;

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
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.source.WrongFiles;

/** The schema that editors use says the same about the shape of a scenario as the reader does. */
class ScenarioSchemaTest {

  private static final Path CONFIG = Path.of("..", "config");
  private static final Path SCHEMA = CONFIG.resolve("schema").resolve("scenario.schema.json");
  private static final WrongFiles WRONG = WrongFiles.inResources("wrong-scenarios", "simulator");

  private static Schema schema;

  @BeforeAll
  static void readSchema() throws IOException {
    schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(Files.readString(SCHEMA), InputFormat.JSON);
  }

  static List<Path> scenariosOfTheDemo() throws IOException {
    try (Stream<Path> files = Files.walk(CONFIG.resolve("demo").resolve("scenarios"))) {
      return files.filter(file -> file.toString().endsWith(".yaml")).sorted().toList();
    }
  }

  @ParameterizedTest
  @MethodSource("scenariosOfTheDemo")
  void scenarioOfTheDemoFitsTheSchema(Path file) throws IOException {
    assertEquals(List.of(), errors(file));
  }

  /** Those that are wrong in their shape; what a sentence or a name means no schema can know. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "no-steps",
        "misspelt-keys",
        "odd-steps",
        "odd-expectations",
        "random",
        "train",
        "clock"
      })
  void mistakeOfShapeDoesNotFitTheSchema(String name) throws IOException {
    assertFalse(errors(WRONG.named(name)).isEmpty());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{}",
        "{tell: line t2e to t4e, pass: 8 s}",
        "{why: t2e}",
        "{pass: 8}",
        "{pass: soon}",
        "{repeat: 0, steps: []}",
        "{expect: a, within: 8 s, always: 8 s}",
        "{expect: a, never: 8 s, until: b}",
        "{halt: Extra 41, heading: east}",
        "{run: Extra 41, heading: up}",
        "{random: {seed: 1, steps: 5, of: []}}",
        "{random: {seed: -1, steps: 5, of: [{pass: 1 s}]}}",
        "{tel: line t2e to t4e}",
      })
  void stepThatTheReaderRefusesDoesNotFit(String step) {
    assertFalse(schema.validate(scenario(step), InputFormat.YAML).isEmpty());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{tell: line t2e to t4e, refused: section}",
        "{run: Extra 41, heading: west}",
        "{pass: 1.5 min}",
        "{fault: motor of t1 sticks}",
        "{expect: a, until: b, within: 8 s}",
        "{why: t2e, says: nothing}",
        "{repeat: 3, steps: [{pass: 1 s}]}",
        "{random: {seed: 1, steps: 5, of: [{pass: 1 s}]}}",
      })
  void stepThatTheReaderTakesFits(String step) {
    assertEquals(List.of(), schema.validate(scenario(step), InputFormat.YAML));
  }

  /** A name that is defined twice would silently mean the second. */
  @Test
  void schemaDefinesNoNameTwice() {
    var strict = JsonMapper.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build();
    assertDoesNotThrow(() -> strict.readTree(SCHEMA.toFile()));
  }

  private static String scenario(String step) {
    return "scenario: One step\nsteps: [" + step + "]\n";
  }

  private static List<Error> errors(Path file) throws IOException {
    return schema.validate(Files.readString(file), InputFormat.YAML);
  }
}
