package tappet.bridge.journal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.record.RecordingReader;
import tappet.bridge.record.Session;
import tappet.bridge.replay.Outcome;
import tappet.bridge.replay.RecordedRehearsal;
import tappet.bridge.replay.Replay;
import tappet.layout.LayoutReader;
import tappet.rules.RuleReader;
import tappet.source.Problems;

/**
 * Sessions out of the journal, by the files that stand there with them, replay to what was said
 * then (issue 8, "A restored journal replays to the same outputs").
 */
class JournalReplayTest {

  @TempDir private Path folder;

  @ParameterizedTest
  @ValueSource(strings = {"31-permit.yaml", "02-meet-at-tilling.yaml"})
  void sessionOutOfTheJournalIsReplayedWithoutADifference(String scenario) throws Exception {
    Path journal = folder.resolve("j");
    assertTrue(RecordedRehearsal.keep(scenario, journal).passed());
    Path log = folder.resolve("x.log");
    Query all = Query.ofPage(Map.of("session", "1"), Query.NO_LIMIT).latestFirst(false);
    try (PrintStream out = new PrintStream(log.toFile(), StandardCharsets.UTF_8);
        JournalPrinter printer =
            JournalPrinter.open(journal, ZoneOffset.UTC, new JournalPrinter.Paper(out, out))) {
      assertTrue(printer.frames(all));
    }

    Outcome outcome = Replay.of(order(journal, log));

    assertTrue(outcome.compared());
    assertEquals(List.of(), outcome.differences());
    assertTrue(outcome.inputs() > 50, outcome.inputs() + " inputs");
  }

  private static Replay.Order order(Path journal, Path log) throws IOException {
    Session session = RecordingReader.read(log, new Problems()).orElseThrow().sessions().get(0);
    try (JournalReader reader = JournalReader.open(journal)) {
      PastSession past = reader.sessions().get(0);
      var layout = LayoutReader.read("l", past.layout().text(), new Problems()).orElseThrow();
      var table = RuleReader.read("r", past.rules().text(), layout, new Problems()).orElseThrow();
      return new Replay.Order(session, layout, table, Duration.ofMillis(100), Optional.empty());
    }
  }
}
