package tappet.layout;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.lcc.EventId;
import tappet.source.Problems;

/** Devices besides sections, switches and signals, as they are written. */
class LinesideReaderTest {

  private static final String DEVICES =
      """
      districts:
        west: {name: West end, tripped: 0A.00.00.00.00.02.51.01, restored: 0A.00.00.00.00.02.51.00}
      openings:
        doorway: {sections: [os], closed: 0A.00.00.00.00.01.61.01, open: 0A.00.00.00.00.01.61.00}
        bridge:
          kind: drawbridge
          sections: [main, os]
          closed: 0A.00.00.00.00.01.62.01
          open: 0A.00.00.00.00.01.62.00
          locked: 0A.00.00.00.00.01.63.01
          unlocked: 0A.00.00.00.00.01.63.00
          lock time: 3 s
          to: {lock: 0A.00.00.00.00.01.64.01, unlock: 0A.00.00.00.00.01.64.00}
      lamps:
        red: {lit: 0A.00.00.00.00.03.71.01, dark: 0A.00.00.00.00.03.71.00}
      buttons:
        call: {pressed: 0A.00.00.00.00.03.81.01, released: 0A.00.00.00.00.03.81.00}
      spots:
        gauge: {at: b, passed: 0A.00.00.00.00.01.91.01}
        bell: {at: b, east: 0A.00.00.00.00.01.92.01, west: 0A.00.00.00.00.01.92.00}
      grade crossings:
        road: {island: main, warn: 0A.00.00.00.00.01.A1.01, rest: 0A.00.00.00.00.01.A1.00}
      boards:
        power: {node: 0A.00.00.00.00.02}
        fascia: {node: 0A.00.00.00.00.03}
        other: {node: 0A.00.00.00.00.04, carries: [main, bridge]}
      """;

  private static final String TEXT =
      TinyLayout.TEXT.replace("main: {name", "main: {district: west, name") + DEVICES;

  private final Layout layout = read();

  @Test
  void sectionsAreFedByTheDistrictTheyName() {
    assertEquals(List.of("main"), layout.lineside().districts().get("west").sections());
    assertEquals("West end", layout.lineside().districtOf("main").orElseThrow().name());
    assertTrue(layout.lineside().districtOf("os").isEmpty());
  }

  @Test
  void openingHasALockOrNone() {
    var bridge = layout.lineside().openings().get("bridge");
    assertEquals(Opening.Form.DRAWBRIDGE, bridge.form());
    assertEquals(Duration.ofSeconds(3), bridge.lock().orElseThrow().time());
    var doorway = layout.lineside().openings().get("doorway");
    assertEquals(Opening.Form.LIFT_OUT, doorway.form());
    assertEquals(Optional.empty(), doorway.lock());
    assertEquals(Map.of(), doorway.told());
  }

  @Test
  void spotTellsOfEachDirectionOrOfEither() {
    var spots = layout.lineside().spots();
    assertEquals(
        Map.of("passed", EventId.of("0A.00.00.00.00.01.91.01")), spots.get("gauge").tells());
    assertEquals(List.of("east", "west"), List.copyOf(spots.get("bell").tells().keySet()));
  }

  // S-9.7.0.4 §5.1: an event id begins with the id of the node that made it.
  @Test
  void boardCarriesTheDevicesWhoseEventsAreItsOwnOrThatItNames() {
    assertEquals("power district west", layout.boards().get("power").load());
    assertEquals("lamp red; button call", layout.boards().get("fascia").load());
    assertEquals("section main; opening bridge", layout.boards().get("other").load());
  }

  @Test
  void buttonIsSteadyAfterATenthOfASecondWhereNothingElseIsSaid() {
    assertEquals(Duration.ofMillis(100), layout.lineside().buttons().get("call").steady());
  }

  @Test
  void whatTheReaderAcceptsFitsTheSchema() throws IOException {
    var schema = Files.readString(Path.of("..", "config", "schema", "layout.schema.json"));
    assertEquals(
        List.of(),
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(schema, InputFormat.JSON)
            .validate(TEXT, InputFormat.YAML));
  }

  private static Layout read() {
    var problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", TEXT, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }
}
