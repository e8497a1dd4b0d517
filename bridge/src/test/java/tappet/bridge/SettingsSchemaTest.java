package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

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
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.source.Problems;

/**
 * The schema that editors use says the same about the shape of a settings file as the reader does.
 */
class SettingsSchemaTest {

  private static final Path CONFIG = Path.of("..", "config");
  private static final String LEAST =
      """
      daemon: 1
      layout: layout.yaml
      rules: rules.yaml
      node: 0A.57.00.00.00.01
      connections: []
      """;

  private static Schema schema;

  @BeforeAll
  static void readSchema() throws IOException {
    String text = Files.readString(CONFIG.resolve("schema").resolve("tappet.schema.json"));
    schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(text, InputFormat.JSON);
  }

  @ParameterizedTest
  @ValueSource(strings = {"demo", "installed", "starter"})
  void settingsThatComeWithTappetFitTheSchemaAndAreRead(String folder) throws IOException {
    String text = Files.readString(CONFIG.resolve(folder).resolve("tappet.yaml"));
    assertEquals(List.of(), errors(text));
    assertTrue(isRead(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "journal: {keep: 1 day, at most: 1 MB}",
        "journal: {file: here.db, keep: 30 days, at most: 2 GB}",
        "clock: {mode: run}",
        "clock: {mode: run, which: alternate-1, rate: 4:1, time: 18:45}",
        "clock: {mode: run, rate: 0.25, time: 6:00}",
        "clock: {mode: run, rate: -512}",
        "clock: {mode: follow, which: fast}",
        "state: elsewhere/tappet.state",
        "hub: layout.example:12021",
        "draft hub: 127.0.0.1:12023",
        "metrics: 127.0.0.1:12090",
        "mqtt: {broker: layout.example:1883}",
        "mqtt: {broker: a:1, user: me, password file: p, tls: yes, trust: ca.pem, commands: {role: crew}}",
      })
  void whatTheReaderAcceptsFitsTheSchema(String line) {
    assertEquals(List.of(), errors(LEAST + line));
    assertTrue(isRead(LEAST + line));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
      clock: run                           | type                 | /clock
      clock: {rate: 2}                     | required             | /clock
      clock: {mode: lead}                  | enum                 | /clock/mode
      clock: {mode: run, which: real}      | enum                 | /clock/which
      clock: {mode: run, rate: 0.3}        | multipleOf           | /clock/rate
      clock: {mode: run, rate: 600}        | maximum              | /clock/rate
      clock: {mode: run, rate: 0}          | not                  | /clock/rate
      clock: {mode: run, rate: fast}       | pattern              | /clock/rate
      clock: {mode: run, time: 24:00}      | pattern              | /clock/time
      clock: {mode: run, speed: 2}         | additionalProperties | /clock
      clock: {mode: follow, rate: 2}       | false                | /clock/rate
      clokc: {mode: run}                   | additionalProperties | ''
      hub: 12021                           | type                 | /hub
      draft hub: 12023                     | type                 | /draft hub
      metrics: 12090                       | type                 | /metrics
      mqtt: {prefix: tappet}               | required             | /mqtt
      mqtt: {broker: a:1, user: me}        | dependentRequired    | /mqtt
      mqtt: {broker: a:1, prefix: a/b}     | pattern              | /mqtt/prefix
      mqtt: {broker: a:1, trust: ca.pem}   | dependentRequired    | /mqtt
      mqtt: {broker: a:1, commands: {role: crew}} | dependentRequired | /mqtt
      """)
  void whatTheReaderRefusesDoesNotFitTheSchema(String line, String keyword, String where) {
    List<Error> errors = errors(LEAST + line);
    assertTrue(
        errors.stream()
            .anyMatch(
                error ->
                    keyword.equals(error.getKeyword())
                        && error.getInstanceLocation().toString().equals(where)),
        errors::toString);
    assertFalse(isRead(LEAST + line));
  }

  private static List<Error> errors(String text) {
    return schema.validate(text, InputFormat.YAML);
  }

  private static boolean isRead(String text) {
    return SettingsReader.read(Path.of("tappet.yaml"), text, new Problems()).isPresent();
  }
}
