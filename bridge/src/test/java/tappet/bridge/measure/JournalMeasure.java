package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.OptionalInt;
import java.util.concurrent.TimeUnit;
import tappet.bridge.journal.Journal;
import tappet.bridge.journal.Limits;
import tappet.bridge.journal.OwnerFile;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.record.Item;
import tappet.bridge.record.Scribe;
import tappet.bridge.record.SessionRecorder;
import tappet.lcc.AliasSeed;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;

/**
 * Measures what the journal writes to a memory card at the demo, quiet and busy, and what it costs
 * the box to hand a frame over, with the recorder as the baseline.
 */
final class JournalMeasure {

  private static final double SECONDS_PER_HOUR = 3_600;
  private static final double MB = 1e6;
  private static final int ROUNDS = 7;

  /** Fits into the queue, so that none is lost. */
  private static final int BURST = 4_000;

  private static final CanFrame FRAME = CanFrame.of(0x195B4573, 8, 0x0102_0304_0506_0708L);

  private final PrintStream out;
  private final int runS;
  private final int frames;

  /**
   * @param runS so long runs the demo, quiet and then busy
   * @param frames so many are handed over
   */
  JournalMeasure(PrintStream out, int runS, int frames) {
    this.out = out;
    this.runS = runS;
    this.frames = frames;
  }

  void measure(Path folder, ReactionMeasure.Starter daemon)
      throws IOException, InterruptedException {
    out.printf("journal: the demo for %d s quiet, then %d s busy%n", runS, runS);
    try (Program program = daemon.start(Settings.demo(folder))) {
      DeskVisitor desk = new DeskVisitor(program.desk());
      TimeUnit.SECONDS.sleep(Math.min(runS, 5));
      Path journal = folder.resolve("tappet.state.journal");
      tell("quiet", program, journal, () -> TimeUnit.SECONDS.sleep(runS));
      tell("busy", program, journal, () -> FootprintMeasure.keepTrainsRunning(desk, runS));
    }
    tellCost(folder);
  }

  private interface Work {
    void run() throws IOException, InterruptedException;
  }

  private void tell(String name, Program program, Path journal, Work work)
      throws IOException, InterruptedException {
    long writtenBefore = program.writtenBytes();
    long sizeBefore = size(journal);
    work.run();
    double perHour = SECONDS_PER_HOUR / runS / MB;
    double written = (program.writtenBytes() - writtenBefore) * perHour;
    double grown = (size(journal) - sizeBefore) * perHour;
    out.printf(
        "  %s: %.1f MB an hour written, all files; journal and its log grow %.1f MB an hour%n",
        name, written, grown);
  }

  /** With its log, which holds what has not been copied into it. */
  private static long size(Path journal) throws IOException {
    Path log = journal.resolveSibling(journal.getFileName() + "-wal");
    return (Files.exists(journal) ? Files.size(journal) : 0)
        + (Files.exists(log) ? Files.size(log) : 0);
  }

  private void tellCost(Path folder) throws IOException, InterruptedException {
    Item.Started begin =
        new Item.Started(
            "", "", NodeId.of("0A.57.00.00.00.01"), new AliasSeed(1), new ClockPlan.None(), "");
    double recorderNs;
    try (Scribe<?> recorder =
        SessionRecorder.open(folder.resolve("baseline.log"), "can0", begin, out::println)) {
      recorderNs = handOverNs(recorder);
    }
    try (Scribe<?> journal =
        Journal.open(
            folder.resolve("cost.journal"),
            new Journal.Beginning(begin, new OwnerFile("l", ""), new OwnerFile("r", "")),
            new Limits(Duration.ofDays(1), 100 * Limits.BYTES_LEAST),
            Journal.Clocks.usual(OptionalInt::empty),
            out::println)) {
      double journalNs = handOverNs(journal);
      out.printf(
          "  a frame costs the box %.0f ns: %.1f times what the recorder costs%n",
          journalNs, journalNs / recorderNs);
      out.printf(
          "  check value: %d frames of a round handed over, %d lost%n",
          Math.min(BURST, frames / ROUNDS), journal.lost());
    }
  }

  /** The median of some rounds, with pauses in which the writer catches up. */
  private double handOverNs(Scribe<?> scribe) throws InterruptedException {
    scribe.started(0);
    double[] rounds = new double[ROUNDS];
    int burst = Math.min(BURST, frames / ROUNDS);
    for (int round = 0; round < ROUNDS; round++) {
      long beganNs = System.nanoTime();
      for (int count = 0; count < burst; count++) {
        scribe.frameHeard("west", FRAME, count);
      }
      rounds[round] = (System.nanoTime() - beganNs) / (double) burst;
      TimeUnit.MILLISECONDS.sleep(runS < ROUNDS ? 0 : 2_000);
    }
    Arrays.sort(rounds);
    return rounds[ROUNDS / 2];
  }
}
