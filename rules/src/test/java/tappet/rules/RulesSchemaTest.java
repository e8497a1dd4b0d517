package tappet.rules;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.rules.draft.RuleDraft;
import tappet.source.WrongFiles;

/** The schema that editors use says the same about the shape of a rule file as the reader does. */
class RulesSchemaTest {

  private static final WrongFiles WRONG = WrongFiles.inResources("wrong-rules", "rules");

  private static Schema schema;

  @BeforeAll
  static void readSchema() {
    schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(Demo.text("schema", "rules.schema.json"), InputFormat.JSON);
  }

  @ParameterizedTest
  @ValueSource(strings = {"demo", "starter"})
  void fileInConfigFitsTheSchema(String folder) {
    assertEquals(List.of(), errors(Demo.text(folder, "rules.yaml")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"demo", "starter"})
  void draftFitsTheSchema(String folder) {
    assertEquals(List.of(), errors(RuleDraft.of(Demo.layout(folder)).text()));
  }

  // The reader's own words about these files are beside them.
  @ParameterizedTest
  @CsvSource({
    "unknown-version, const, /rules",
    "no-routes, required, ''",
    "no-routes, additionalProperties, ''",
    "misspelt-key, additionalProperties, /routes/0",
    "misspelt-key, required, /routes/0",
    "position-misspelt, enum, /routes/2/switches/t2",
    "release-without-unit, type, /routes/3/release",
    "ladder-without-stop, required, /aspects/main",
    "ladder-gives-stop, not, /aspects/main/beyond stop",
    "ladder-rung-misspelt, propertyNames, /aspects/diverging",
    "also-without-needs, required, /also/0",
    "light-without-when, required, /lights/0",
    "flag-without-switches, required, /flags/0",
    "route-to-be-named, pattern, /routes/4/name",
    "locks, required, /locks/1",
    "locks, additionalProperties, /locks/1",
    "many-mistakes-in-one-run, pattern, /times/start",
  })
  void mistakeOfShapeDoesNotFitTheSchema(String name, String keyword, String where)
      throws IOException {
    var errors = errors(Files.readString(WRONG.named(name)));
    assertTrue(
        errors.stream()
            .anyMatch(
                error ->
                    error.getKeyword().equals(keyword)
                        && error.getInstanceLocation().toString().equals(where)),
        errors::toString);
  }

  private static List<Error> errors(String text) {
    return schema.validate(text, InputFormat.YAML);
  }
}
