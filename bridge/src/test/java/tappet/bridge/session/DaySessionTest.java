package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.rehearsal.SafetyOnlooker;

/**
 * A day of the demo's own list: 24 hours of the railroad's own time, in which its fast clock runs
 * through four days. Every property that the proof demands is looked at in every tick.
 */
class DaySessionTest {

  private static final long SEED = 1;

  /** Each train begins at least every 24 hours of the fast clock. */
  private static final int RUNS_MIN = 4;

  @TempDir private Path folder;

  @Test
  void everyTrainArrivesAllDayLong() throws IOException {
    Session day = run(Duration.ofHours(24), SEED, folder.resolve("day.txt"));
    String report = day.report();
    assertTrue(day.wentWell(), report);
    assertTrue(day.isAtRest(), report);
    assertTrue(report.contains("\n0 mishaps\n"), report);
    day.runs().forEach(run -> assertTrue(run.endedMinute().isPresent(), report));
    Map<String, Long> runs =
        day.runs().stream().collect(Collectors.groupingBy(Run::train, Collectors.counting()));
    assertEquals(12, runs.size(), report);
    runs.forEach((train, count) -> assertTrue(count >= RUNS_MIN, train + " ran " + count));
  }

  @Test
  void sameSeedGivesTheSameSessionAndAnotherGivesAnother() throws IOException {
    Path one = folder.resolve("one.txt");
    Path same = folder.resolve("same.txt");
    Path other = folder.resolve("other.txt");
    Session session = run(Duration.ofHours(2), SEED, one);
    assertEquals(session.report(), run(Duration.ofHours(2), SEED, same).report());
    assertTrue(run(Duration.ofHours(2), SEED + 1, other).wentWell());
    assertEquals(-1, Files.mismatch(one, same), "the journals differ from that byte on");
    assertNotEquals(-1, Files.mismatch(one, other));
  }

  private static Session run(Duration time, long seed, Path journal) throws IOException {
    try (Writer out = Files.newBufferedWriter(journal)) {
      return new VirtualSession(Lists.demo(), new SafetyOnlooker(), new Journal(out), seed)
          .run(time);
    }
  }
}
