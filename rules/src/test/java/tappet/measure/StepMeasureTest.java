package tappet.measure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Layout;

/** What is measured by must itself be sound, and measuring must go on working. */
class StepMeasureTest {

  private static final Pattern CHECK_VALUE = Pattern.compile("check value [0-9a-f]{8}");

  @Test
  void tinyMeasureTellsACheckValueForEachSize() {
    ByteArrayOutputStream told = new ByteArrayOutputStream();
    StepMeasure.tiny(new PrintStream(told, true, StandardCharsets.UTF_8));
    String text = told.toString(StandardCharsets.UTF_8);
    assertEquals(2, CHECK_VALUE.matcher(text).results().count(), text);
  }

  @Test
  void tinyMeasureOfDraftsTellsACheckValueForEachSize() {
    ByteArrayOutputStream told = new ByteArrayOutputStream();
    DraftMeasure.tiny(new PrintStream(told, true, StandardCharsets.UTF_8));
    String text = told.toString(StandardCharsets.UTF_8);
    assertEquals(2, CHECK_VALUE.matcher(text).results().count(), text);
  }

  @ParameterizedTest(name = "{0} groups")
  @ValueSource(ints = {1, 2, 20})
  void generatedLineIsReadWithoutAMistake(int groups) {
    GeneratedLine line = new GeneratedLine(groups);
    Layout layout = line.layout();
    assertEquals(15 * groups, layout.sections().size());
    assertEquals(22 * groups - 2, line.table(layout).routes().size());
  }

  @Test
  void sameSeedGivesTheSameOperation() {
    Railroad railroad = Railroad.named("2");
    assertEquals(tape(railroad, 7), tape(railroad, 7), "seed 7");
  }

  /** A jammed line would be cheap to step and would measure nothing. */
  @ParameterizedTest(name = "railroad {0}")
  @ValueSource(strings = {Railroad.DEMO, "2", "10"})
  void trainsKeepRunning(String name) {
    FieldTape tape = tape(Railroad.named(name), 1);
    assertTrue(tape.reports() > tape.operation().size() / 2, tape.reports() + " reports");
  }

  private static FieldTape tape(Railroad railroad, long seed) {
    return Operation.tape(railroad.layout(), railroad.table(), seed, 5_000);
  }
}
