package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.TimeUnit;
import tappet.bridge.Ports;

/**
 * Measures how much memory is resident while the demo's session runs for a day of the railroad's
 * time, with pages, metrics and the journal. The baseline is a JVM with the same options and
 * nothing to do: see the measurement of the footprint.
 */
final class DayMeasure {

  private static final int SPEED = 60;
  private static final double GOAL_MB = 90;

  private final PrintStream out;
  private final int looks;
  private final Duration between;

  /**
   * @param looks how often to look at it
   * @param between the railroad's time between two looks
   */
  DayMeasure(PrintStream out, int looks, Duration between) {
    this.out = out;
    this.looks = looks;
    this.between = between;
  }

  void measure(Path folder, SessionStarter session) throws IOException, InterruptedException {
    out.printf("day: the demo's session at %d times its speed, with metrics and pages%n", SPEED);
    int metrics = Ports.free();
    Path settings = Settings.session(folder, Ports.free(), metrics);
    try (Program program = session.start(settings, SPEED)) {
      program.hub();
      for (int look = 1; look <= looks; look++) {
        TimeUnit.NANOSECONDS.sleep(between.toNanos() / SPEED);
        tell(between.multipliedBy(look), program, BoxReactions.at(metrics));
      }
    }
    out.printf("  goal: %.0f MB after a day, and flat%n", GOAL_MB);
  }

  private void tell(Duration goneBy, Program program, BoxReactions reactions) throws IOException {
    out.printf(
        "  after %2d h %2d min: %.1f MB resident, %.1f s of processor time, %,.0f frames%n",
        goneBy.toHours(),
        goneBy.toMinutesPart(),
        program.residentMb(),
        program.processorTime().toMillis() / 1e3,
        reactions.count());
  }
}
