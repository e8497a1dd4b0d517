package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.time.Duration;
import java.util.List;
import tappet.layout.Layout;
import tappet.rules.ControlTable;

/**
 * Measures how fast time passes on the demo where a rehearsal runs it, all boards on the frame bus,
 * and whether the heap stays flat meanwhile. All of it happens on one thread.
 */
final class RehearsalMeasure {

  private static final int SAMPLES = 7;

  private final PrintStream out;
  private final Duration pace;
  private final Duration soak;

  /**
   * @param pace how long each railroad runs whose pace is told, in its own time
   * @param soak how long the one runs whose heap is told
   */
  RehearsalMeasure(PrintStream out, Duration pace, Duration soak) {
    this.out = out;
    this.pace = pace;
    this.soak = soak;
  }

  void measure() throws IOException {
    Layout layout = Settings.demoLayout();
    ControlTable table = Settings.demoTable(layout);
    out.printf("rehearse: the demo, %d virtual seconds each on one thread%n", pace.toSeconds());
    tellPace("warming up", new Shuttles(layout, table, Shuttles.BOTH));
    tellPace("no train", new Shuttles(layout, table, List.of()));
    tellPace("one train moving", new Shuttles(layout, table, Shuttles.BOTH.subList(0, 1)));
    tellPace("two trains moving", new Shuttles(layout, table, Shuttles.BOTH));
    tellHeap(new Shuttles(layout, table, Shuttles.BOTH));
    out.println("  goals: 3,000 virtual seconds a second or more, heap flat over a virtual week");
  }

  private void tellPace(String name, Shuttles railroad) {
    long beganNs = System.nanoTime();
    railroad.runFor(pace);
    double seconds = (System.nanoTime() - beganNs) / 1e9;
    out.printf("  %s: %,.0f virtual seconds a second%n", name, pace.toSeconds() / seconds);
    out.println("    check value: " + railroad.checkValue());
  }

  private void tellHeap(Shuttles railroad) {
    Duration part = soak.dividedBy(SAMPLES);
    StringBuilder heap = new StringBuilder();
    for (int sample = 0; sample < SAMPLES; sample++) {
      railroad.runFor(part);
      heap.append(" %.1f".formatted(heapMb()));
    }
    out.printf(
        "  heap in MB, two trains moving, every %d virtual hours:%s%n", part.toHours(), heap);
    out.println("    check value: " + railroad.checkValue());
  }

  /** What is left after garbage has been collected. */
  private static double heapMb() {
    System.gc();
    Runtime runtime = Runtime.getRuntime();
    return (runtime.totalMemory() - runtime.freeMemory()) / 1e6;
  }

  /** An hour for each pace and a week for the heap. */
  static RehearsalMeasure whole(PrintStream out) {
    return new RehearsalMeasure(out, Duration.ofHours(1), Duration.ofDays(7));
  }

  /** Just long enough for a train to arrive. */
  static RehearsalMeasure tiny(PrintStream out) {
    return new RehearsalMeasure(out, Duration.ofMinutes(5), Duration.ofMinutes(7));
  }
}
