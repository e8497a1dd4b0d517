package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
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
  void everyTrainArrivesAllDayLongAndTheSameSeedGivesTheSameDay() throws IOException {
    Path one = folder.resolve("one.txt");
    Path other = folder.resolve("other.txt");
    SessionPlan plan = Lists.demo();
    var again =
        CompletableFuture.supplyAsync(() -> run(Lists.demo(), Duration.ofHours(24), SEED, other));
    Session day = run(plan, Duration.ofHours(24), SEED, one);
    assertEverythingArrived(day);
    assertEquals(day.report(), again.join().report());
    assertEquals(-1, Files.mismatch(one, other), "the journals differ from that byte on");
    assertOtherSeedGivesAnotherJournal(one);
  }

  private static void assertEverythingArrived(Session day) {
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

  private void assertOtherSeedGivesAnotherJournal(Path day) throws IOException {
    Path file = folder.resolve("seed.txt");
    Session hour = run(Lists.demo(), Duration.ofHours(1), SEED + 1, file);
    assertTrue(hour.wentWell(), hour.report());
    List<String> lines = Files.readAllLines(file);
    assertFalse(Files.readAllLines(day).subList(0, lines.size()).equals(lines));
  }

  private static Session run(SessionPlan plan, Duration time, long seed, Path journal) {
    try (Writer out = Files.newBufferedWriter(journal)) {
      return new VirtualSession(plan, new SafetyOnlooker(), new Journal(out), seed).run(time);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
