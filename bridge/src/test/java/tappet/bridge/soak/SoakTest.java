package tappet.bridge.soak;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToLongFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.JavaProcess;
import tappet.bridge.conformance.Dut;

/**
 * The daemon under whatever a bus may bring, in fixed seeds: it does not crash, believes nothing
 * that no board has said, and its memory stays flat. The long run is {@code
 * -Dsoak.frames=10000000}.
 */
class SoakTest {

  private static final long FRAMES = Long.getLong("soak.frames", 80_000);
  private static final long SEED = Long.getLong("soak.seed", 20_261_125);
  private static final int ROUND = 24_000;

  /** How often vitals are taken in a run, at most; before that the daemon warms up. */
  private static final int SAMPLES = 24;

  private static final int LIVE_GROWTH_MAX_KB = 512;
  private static final int RESIDENT_GROWTH_MAX_KB = 4_096;
  private static final int FILES_GROWTH_MAX = 2;

  /** Lines of one kind that a run may log, beyond one for each visitor. */
  private static final int LINES_MAX = 20;

  @TempDir Path folder;

  @Test
  void hostileFramesChangeNothingThatIsBelievedAndLeaveNothingBehind() throws Exception {
    System.out.printf("soak: %d frames, seed %d%n", FRAMES, SEED);
    long startNs = System.nanoTime();
    try (Dut daemon = Dut.alone(folder);
        Soak soak = new Soak(daemon, SEED)) {
      List<Vitals> samples = soak(soak, daemon.process());
      double seconds = (System.nanoTime() - startNs) / 1e9;
      System.out.printf(
          "soak: %d frames in %.0f s; the daemon said %d and started %d times;"
              + " %d overheard, %d visitors%n",
          soak.frames(), seconds, soak.answers(), soak.starts(), soak.overheard(), soak.visitors());
      assertFlat(samples);
      assertQuiet(daemon.process().lines(), soak.visitors());
      assertEquals(143, daemon.process().terminate(), "ended by SIGTERM");
    }
  }

  private static List<Vitals> soak(Soak soak, JavaProcess process) throws Exception {
    long roundsAll = Math.max(1, FRAMES / ROUND);
    long every = Math.max(1, roundsAll / SAMPLES);
    List<Vitals> samples = new ArrayList<>();
    for (long round = 0; soak.frames() < FRAMES; round++) {
      soak.round(ROUND);
      if (round % every == every - 1) {
        samples.add(Vitals.of(process.id()));
        System.out.printf(
            "soak: after %d frames %s%n", soak.frames(), samples.get(samples.size() - 1));
      }
    }
    return samples;
  }

  /** The first third is warming up; the last third is compared with the second. */
  private static void assertFlat(List<Vitals> samples) {
    int third = samples.size() / 3;
    List<Vitals> warm = samples.subList(third, 2 * third);
    List<Vitals> late = samples.subList(2 * third, samples.size());
    assertGrowth("live heap, KB", warm, late, Vitals::liveKb, LIVE_GROWTH_MAX_KB);
    assertGrowth("resident memory, KB", warm, late, Vitals::residentKb, RESIDENT_GROWTH_MAX_KB);
    assertGrowth("threads", warm, late, Vitals::threads, 0);
    assertGrowth("open files", warm, late, Vitals::files, FILES_GROWTH_MAX);
  }

  private static void assertGrowth(
      String what, List<Vitals> warm, List<Vitals> late, ToLongFunction<Vitals> of, long most) {
    long before = Vitals.median(warm, of);
    long after = Vitals.median(late, of);
    System.out.printf("soak: %s: %d, later %d, at most %d more%n", what, before, after, most);
    assertTrue(after - before <= most, () -> what + " grew from " + before + " to " + after);
  }

  private static void assertQuiet(List<String> lines, long visitors) {
    Map<String, Integer> kinds = new HashMap<>();
    for (String line : lines) {
      assertTrue(!line.matches("\\s+at .*|.*(Exception|Error)\\b.*"), () -> "logged: " + line);
      kinds.merge(line.replaceAll("\\d+", "0"), 1, Integer::sum);
    }
    System.out.println("soak: logged " + kinds);
    kinds.forEach(
        (kind, count) ->
            assertTrue(count <= LINES_MAX + visitors, () -> count + " times: " + kind));
  }
}
