package tappet.bridge.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.bridge.record.Recording;
import tappet.bridge.record.RecordingReader;
import tappet.bridge.record.Session;
import tappet.source.Problems;

/** What was recorded is lived through again. Common practice, no source. */
class ReplayTest {

  private static final Duration TOLERANCE = Duration.ofMillis(100);

  @TempDir Path folder;

  static List<String> scenarios() throws IOException {
    return RecordedRehearsal.all();
  }

  @ParameterizedTest
  @MethodSource("scenarios")
  void everyScenarioOfTheDemoIsReplayedWithoutADifference(String scenario) throws Exception {
    Path file = folder.resolve("session.log");
    assertTrue(RecordedRehearsal.record(scenario, file).passed());
    Recording recording = read(file);
    assertEquals(1, recording.sessions().size());
    assertEquals(List.of(), recording.remarks());

    Outcome outcome = replay(recording.sessions().get(0), rules());

    assertEquals("", told(outcome));
    assertEquals(0, outcome.furthestUs(), "virtual time has no jitter");
    assertTrue(outcome.events() >= 20 && outcome.inputs() >= 50, outcome::toString);
  }

  private static String told(Outcome outcome) {
    return outcome.differences().isEmpty()
        ? ""
        : ReplayReport.text("session.log", outcome, outcome.differences());
  }

  private static String rules() throws IOException {
    return Files.readString(RecordedRehearsal.DEMO.resolve("rules.yaml"));
  }

  private static Outcome replay(Session session, String rules) throws Exception {
    return Replay.of(
        new Replay.Order(
            session,
            RecordedRehearsal.layout(),
            RecordedRehearsal.table(rules),
            TOLERANCE,
            Optional.empty()));
  }

  private static Recording read(Path file) {
    Problems problems = new Problems();
    return RecordingReader.read(file, problems)
        .orElseThrow(() -> new AssertionError(problems.sorted()));
  }
}
