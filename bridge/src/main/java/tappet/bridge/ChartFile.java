package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.record.Trouble;
import tappet.bridge.view.ChartText;
import tappet.bridge.view.KeptChart;

/**
 * The file that outlives the daemon with what people wrote on the chart. What a person writes is
 * written at once; names that move with their trains, once a second at the most, to spare a memory
 * card.
 */
final class ChartFile implements Consumer<KeptChart>, AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(ChartFile.class);

  /** How often names that move are written at the most. */
  static final long MOVES_MS = 1_000;

  private final Path file;
  private final ScheduledExecutorService writer;
  private final Trouble trouble;

  /** What has moved and is not written yet; nothing where all is. */
  private final AtomicReference<KeptChart> moved = new AtomicReference<>();

  /** Whether people have been told that it cannot be written; of the writer. */
  private boolean isFailing;

  /**
   * @param trouble is told what is wrong with the file, to follow the word "chart"
   */
  ChartFile(Path file, Trouble trouble) {
    this(
        file,
        trouble,
        Executors.newSingleThreadScheduledExecutor(t -> new Thread(t, "chart-file")));
  }

  /**
   * @param writer writes, one text after the other
   */
  ChartFile(Path file, Trouble trouble, ScheduledExecutorService writer) {
    this.file = file;
    this.trouble = trouble;
    this.writer = writer;
  }

  /** Where the chart is kept, beside the daemon's state. */
  static Path beside(Path state) {
    return state.resolveSibling(state.getFileName() + ".chart");
  }

  /** What was kept; a blank chart where there is nothing, or nothing that makes sense. */
  KeptChart read() {
    try {
      return ChartText.read(Files.readString(file));
    } catch (NoSuchFileException e) {
      return KeptChart.BLANK;
    } catch (IOException | IllegalArgumentException e) {
      trouble.happened(
          "was damaged: %s cannot be read: %s; it is begun anew"
              .formatted(file.getFileName(), e.getMessage()));
      putAside();
      return KeptChart.BLANK;
    }
  }

  private void putAside() {
    DurableFile.putAside(file)
        .ifPresent(aside -> LOG.warn("{} cannot be read and is kept as {}", file, aside));
  }

  /** Keeps what a person has written; the answer is why that failed, or empty. */
  CompletableFuture<Optional<String>> keep(KeptChart chart) {
    try {
      moved.set(null);
      return CompletableFuture.supplyAsync(() -> write(chart), writer);
    } catch (RejectedExecutionException e) {
      return CompletableFuture.completedFuture(Optional.of("the daemon is ending"));
    }
  }

  /** Keeps, soon, where names have gone by themselves. */
  @Override
  public void accept(KeptChart chart) {
    if (moved.getAndSet(chart) == null && !writer.isShutdown()) {
      var unused = writer.schedule(this::writeMoved, MOVES_MS, TimeUnit.MILLISECONDS);
    }
  }

  private void writeMoved() {
    KeptChart latest = moved.getAndSet(null);
    if (latest != null) {
      write(latest).ifPresent(this::fail);
    }
  }

  /** Nobody waits for an answer that could say so. */
  private void fail(String why) {
    isFailing = true;
    trouble.arises(why);
  }

  private Optional<String> write(KeptChart chart) {
    Optional<String> whyNot = DurableFile.write(file, ChartText.of(chart));
    if (whyNot.isEmpty() && isFailing) {
      isFailing = false;
      trouble.over();
    }
    return whyNot;
  }

  @Override
  public void close() {
    if (!writer.isShutdown()) {
      writer.execute(this::writeMoved);
      DurableFile.finish(writer, file);
    }
  }
}
