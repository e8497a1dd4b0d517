package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Pattern;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Messages;

/**
 * Measures how soon the daemon is ready on the demo, and how much memory is resident after trains
 * have run for a while. The baselines are a JVM with the same options and nothing to do, and one
 * that uses the daemon's libraries alone.
 *
 * <p>A node must wait at least 200 ms for its alias (S-9.7.2.1 §6.2.1), so signals can never be
 * commanded sooner than that after listening.
 */
final class FootprintMeasure {

  private static final long PATIENCE_S = 30;
  private static final long BETWEEN_SENTENCES_MS = 250;

  /** What keeps trains running up and down the line. */
  private static final List<String> SENTENCES =
      List.of(
          "line f2e to t2e",
          "run 'Extra 41' east",
          "line t2e to t4e",
          "line t4e to m2e",
          "line c2e to corvane-end",
          "line f4e to t2e",
          "run 'Extra 57' east",
          "line t2e to t6e",
          "line c6w to m2w",
          "run 'Mill Turn' west",
          "line t8w to t4w",
          "line t4w to f6w",
          "line f6w to fallow-1-end",
          "line t6e to m2e",
          "line c2e to mill-end");

  private final PrintStream out;
  private final int starts;
  private final int runS;
  private final Set<EventId> stops;

  FootprintMeasure(PrintStream out, int starts, int runS) throws IOException {
    this.out = out;
    this.starts = starts;
    this.runS = runS;
    this.stops = Settings.stopsOfDemo();
  }

  private interface Starter {
    Program start() throws IOException;
  }

  /** One start: to listening, and to every signal commanded to Stop. */
  private record Start(double listeningMs, double atStopMs) {}

  void measure(Path folder, Map<String, ReactionMeasure.Starter> daemons)
      throws IOException, InterruptedException {
    out.printf("footprint: the demo, median of %d starts%n", starts);
    tellReady("empty JVM", () -> Program.of(EmptyProgram.class, Pattern.compile("ready")));
    Path settings = Settings.demo(folder);
    for (var daemon : daemons.entrySet()) {
      tellStarts(daemon.getKey(), settings, daemon.getValue());
    }
    tellMemory(settings, daemons.values().iterator().next());
  }

  /** Measures the libraries alone, from the jars that the daemon was started from. */
  void measureLibraries(Path folder) throws IOException, InterruptedException {
    tellReady("its libraries alone, with archive", BareProgram.in(folder)::start);
    out.println(
        "  goals: ready in 600 ms with the class-data archive and 1,000 ms without, 80 MB resident;"
            + " an alias takes at least 200 ms of the second time");
  }

  /** What the machine takes for less, against which all else is judged. */
  private void tellReady(String name, Starter starter) throws IOException {
    List<Double> readyMs = new ArrayList<>();
    double residentMb = 0;
    for (int number = 0; number < starts; number++) {
      try (Program program = starter.start()) {
        readyMs.add(program.readyNs() / 1e6);
        residentMb = program.residentMb();
      }
    }
    out.printf("  %s: ready in %.0f ms, %.1f MB resident%n", name, median(readyMs), residentMb);
  }

  private void tellStarts(String name, Path settings, ReactionMeasure.Starter daemon)
      throws IOException, InterruptedException {
    bringUpOnce(settings, daemon);
    List<Double> listening = new ArrayList<>();
    List<Double> atStop = new ArrayList<>();
    for (int number = 0; number < starts; number++) {
      try (Program program = daemon.start(settings)) {
        Start start = start(program);
        listening.add(start.listeningMs());
        atStop.add(start.atStopMs());
      }
    }
    out.printf(
        "  %s: listening in %.0f ms, every signal at Stop in %.0f ms%n",
        name, median(listening), median(atStop));
  }

  /** The first start may have to make the archive. */
  private static void bringUpOnce(Path settings, ReactionMeasure.Starter daemon)
      throws IOException {
    try (Program program = daemon.start(settings)) {
      program.readyNs();
    }
  }

  private Start start(Program program) throws IOException, InterruptedException {
    double listeningMs = program.readyNs() / 1e6;
    Set<EventId> missing = ConcurrentHashMap.newKeySet();
    missing.addAll(stops);
    AtomicLong lastNs = new AtomicLong();
    CountDownLatch allTold = new CountDownLatch(1);
    try (Line line = Line.to(program.hub())) {
      line.listen(
          (frame, nowNs) -> {
            if (Messages.decode(frame) instanceof Message.EventReport report
                && missing.remove(report.event())
                && missing.isEmpty()) {
              lastNs.set(nowNs);
              allTold.countDown();
            }
          });
      if (!allTold.await(PATIENCE_S, TimeUnit.SECONDS)) {
        throw new IOException("signals were not put to stop: " + missing);
      }
      return new Start(listeningMs, (lastNs.get() - program.startedNs()) / 1e6);
    }
  }

  private void tellMemory(Path settings, ReactionMeasure.Starter daemon)
      throws IOException, InterruptedException {
    AtomicLong reports = new AtomicLong();
    try (Program program = daemon.start(settings);
        ScriptedField watcher =
            new ScriptedField(
                program.hub(), Map.of(), (event, nowNs) -> reports.incrementAndGet())) {
      watcher.awaitReady();
      long done = keepTrainsRunning(new DeskVisitor(program.desk()), runS);
      out.printf("  %.1f MB resident after %d s with trains running%n", program.residentMb(), runS);
      out.printf("  check value: %d sentences done, %d events reported%n", done, reports.get());
    }
  }

  /** Tells trains and routes for so many seconds; how many sentences were done. */
  static long keepTrainsRunning(DeskVisitor desk, int seconds)
      throws IOException, InterruptedException {
    long done = 0;
    long endNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(seconds);
    for (int number = 0; System.nanoTime() < endNs; number++) {
      done += desk.tell(SENTENCES.get(number % SENTENCES.size())) ? 1 : 0;
      TimeUnit.MILLISECONDS.sleep(BETWEEN_SENTENCES_MS);
    }
    return done;
  }

  private static double median(List<Double> values) {
    return values.stream().sorted().toList().get(values.size() / 2);
  }
}
