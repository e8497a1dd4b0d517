package tappet.bridge.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.bridge.record.RecordingReader;
import tappet.bridge.record.Session;
import tappet.bridge.rehearsal.RehearsalReport;
import tappet.bridge.rehearsal.Result;
import tappet.source.Problems;

/** A recording as a scenario: it goes as it says, on the rules by which it was recorded. */
class ScenarioTellerTest {

  @TempDir Path folder;

  static List<String> scenarios() throws IOException {
    return RecordedRehearsal.all();
  }

  @ParameterizedTest
  @MethodSource("scenarios")
  void whatIsToldOfARecordingPassesOnTheSameRules(String scenario) throws Exception {
    String text = tell(scenario, ScenarioTeller.Part.WHOLE);

    Result result = RecordedRehearsal.rehearse(text);

    assertTrue(result.passed(), () -> RehearsalReport.text(result) + text);
    assertTrue(text.contains("{expect: 'signal t2e is stop', within: 3 s}"), text);
  }

  @Test
  void partBeginsWhereNothingWasLinedAndEndsWhereItIsToldTo() throws Exception {
    String whole = tell("02-meet-at-tilling.yaml", ScenarioTeller.Part.WHOLE);
    String part = tell("02-meet-at-tilling.yaml", new ScenarioTeller.Part(11_000_000, 30_000_000));

    Result result = RecordedRehearsal.rehearse(part);

    assertTrue(result.passed(), () -> RehearsalReport.text(result) + part);
    assertTrue(part.lines().count() < whole.lines().count(), part);
    assertTrue(part.contains("s after the start of the daemon on, when nothing was lined"), part);
    assertTrue(!part.contains("begins: switched on") && part.contains("tell: "), part);
  }

  private String tell(String scenario, ScenarioTeller.Part part) throws Exception {
    Path file = folder.resolve("session.log");
    Files.deleteIfExists(file);
    assertTrue(RecordedRehearsal.record(scenario, file).passed());
    Problems problems = new Problems();
    List<Session> sessions = RecordingReader.read(file, problems).orElseThrow().sessions();
    ScenarioTeller.Told told =
        ScenarioTeller.tell(
            "recorded",
            new Replay.Order(
                sessions.get(0),
                RecordedRehearsal.layout(),
                RecordedRehearsal.table(
                    Files.readString(RecordedRehearsal.DEMO.resolve("rules.yaml"))),
                Duration.ofMillis(100),
                Optional.empty()),
            part);
    assertEquals(List.of(), told.outcome().differences());
    return told.text();
  }
}
