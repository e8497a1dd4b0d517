package tappet.bridge.record;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.LongAdder;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/**
 * Writes down every frame of the hub, the daemon's own ones too. It never holds up the hub: frames
 * wait in a bounded queue for a thread that alone touches the file, and those that find it full are
 * counted as lost.
 *
 * <p>What was heard is in the operating system's hands within a second; on the disk when the system
 * sees fit, which spares memory cards. A full disk is told once; recording goes on by itself when
 * there is room again. Each line is whole, whatever happened.
 */
public final class FrameRecorder implements Connection {

  /** Some 17 seconds of the busiest bus. */
  static final int QUEUE_FRAMES_MAX = 16_384;

  private static final Logger LOG = LoggerFactory.getLogger(FrameRecorder.class);
  private static final Duration USUAL_RETRY = Duration.ofSeconds(5);
  private static final int BATCH_MAX = 1024;
  private static final long FLUSH_MS = 1_000;
  private static final long CLOSE_MS = 5_000;

  private final Hub hub;
  private final FrameLogFile file;
  private final String bus;
  private final long retryNs;
  private final BlockingQueue<LoggedFrame> queue = new ArrayBlockingQueue<>(QUEUE_FRAMES_MAX);
  private final LongAdder heard = new LongAdder();
  private final LongAdder lost = new LongAdder();
  private final Thread writer = new Thread(this::write, "record frames");

  private volatile boolean closed;
  private boolean isFailing;
  private long failedNs;

  private FrameRecorder(Hub hub, FrameLogFile file, String bus, Duration retry) {
    this.hub = hub;
    this.file = file;
    this.bus = bus;
    this.retryNs = retry.toNanos();
  }

  /**
   * Records from now on; goes on at the end of a file that is there already.
   *
   * @param bus the name of the bus in the log, such as {@code can0}: 1 to 15 letters, digits, dots,
   *     dashes or underscores
   * @throws IOException if the file cannot be opened for writing
   */
  public static FrameRecorder start(Hub hub, Path path, String bus) throws IOException {
    return start(hub, path, bus, USUAL_RETRY);
  }

  static FrameRecorder start(Hub hub, Path path, String bus, Duration retry) throws IOException {
    if (!FrameLogText.isBusName(bus)) {
      throw new IllegalArgumentException("bus name '" + bus + "', expected one such as 'can0'");
    }
    FrameRecorder recorder = new FrameRecorder(hub, FrameLogFile.open(path), bus, retry);
    recorder.writer.setDaemon(true);
    recorder.writer.start();
    hub.attach(recorder);
    return recorder;
  }

  @Override
  public boolean leadsToNodes() {
    return false;
  }

  @Override
  public String name() {
    return "recording " + file.path();
  }

  @Override
  public Access access() {
    return Access.LISTEN_ONLY;
  }

  @Override
  public void send(CanFrame frame) {
    heard.increment();
    if (closed || !queue.offer(new LoggedFrame(nowUs(), frame))) {
      lost.increment();
    }
  }

  private static long nowUs() {
    Instant now = Instant.now();
    return now.getEpochSecond() * 1_000_000 + now.getNano() / 1_000;
  }

  private void write() {
    List<LoggedFrame> batch = new ArrayList<>(BATCH_MAX);
    try {
      while (!closed || !queue.isEmpty()) {
        gather(batch);
        write(batch);
        batch.clear();
      }
      file.close();
    } catch (IOException e) {
      LOG.warn("{} could not be closed: {}", name(), e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Collects for a second at most, so that a quiet bus costs one write a second. */
  private void gather(List<LoggedFrame> batch) throws InterruptedException {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(FLUSH_MS);
    while (batch.size() < BATCH_MAX && !closed && System.nanoTime() - endNs < 0) {
      LoggedFrame next = queue.poll(FLUSH_MS / 10, TimeUnit.MILLISECONDS);
      if (next != null) {
        batch.add(next);
      }
    }
    queue.drainTo(batch, BATCH_MAX - batch.size());
  }

  private void write(List<LoggedFrame> batch) {
    if (batch.isEmpty()) {
      return;
    }
    if (isFailing && System.nanoTime() - failedNs < retryNs) {
      lost.add(batch.size());
      return;
    }
    try {
      file.append(batch, bus);
      written();
    } catch (IOException e) {
      lost.add(batch.size());
      failed(e);
    }
  }

  private void written() {
    if (isFailing) {
      isFailing = false;
      LOG.info("{} goes on; {} frames were lost so far", name(), lost.sum());
    }
  }

  private void failed(IOException cause) {
    failedNs = System.nanoTime();
    if (!isFailing) {
      isFailing = true;
      hub.trouble(this, "cannot be written, frames are lost: " + cause.getMessage());
    }
  }

  /** Frames that were heard but not written. */
  public long lost() {
    return lost.sum();
  }

  /** Frames heard count as sent down this line, whether they were written or lost. */
  @Override
  public Traffic traffic() {
    return new Traffic(0, heard.sum(), 0, 0, 0, lost.sum());
  }

  /** Writes what waits and closes the file; waits for it, but for 5 s at most. */
  @Override
  public void close() {
    hub.dismiss(this, "was closed");
    closed = true;
    try {
      writer.join(CLOSE_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
