package tappet.bridge.record;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxListener;
import tappet.interlocking.Answer;
import tappet.lcc.CanFrame;

/**
 * Writes down all that the box takes in and sends, in the box's order and with the box's times, so
 * that another box can live through it. It never holds up the box: what is to be written waits in a
 * bounded queue for a thread that alone touches the file, and what finds it full is counted as
 * missing, in the recording too.
 *
 * <p>What was heard is in the operating system's hands within a second; on the disk when the system
 * sees fit, which spares memory cards. A full disk is told once; recording goes on by itself when
 * there is room again. Each line is whole, whatever happened.
 */
public final class SessionRecorder implements BoxListener, Closeable {

  /** Some 17 seconds of the busiest bus. */
  static final int QUEUE_MAX = 16_384;

  private static final Logger LOG = LoggerFactory.getLogger(SessionRecorder.class);
  private static final Duration USUAL_RETRY = Duration.ofSeconds(5);
  private static final int BATCH_MAX = 1024;
  private static final long FLUSH_MS = 1_000;
  private static final long CLOSE_MS = 5_000;
  private static final long NS_PER_US = 1_000;

  private final FrameLogFile file;
  private final String bus;
  private final Item.Started begin;
  private final Consumer<String> trouble;
  private final long retryNs;
  private final BlockingQueue<Entry> queue = new ArrayBlockingQueue<>(QUEUE_MAX);
  private final AtomicLong unwritten = new AtomicLong();
  private final LongAdder lost = new LongAdder();
  private final Thread writer = new Thread(this::write, "record session");

  private volatile boolean closed;
  private boolean isFailing;
  private long failedNs;

  // Of the box's thread.
  private long zeroUs;
  private long latestNs;
  private long overflowed;
  private long toldSoFar;
  private String origin = "";

  private SessionRecorder(
      FrameLogFile file, String bus, Item.Started begin, Consumer<String> trouble, Duration retry) {
    this.file = file;
    this.bus = bus;
    this.begin = begin;
    this.trouble = trouble;
    this.retryNs = retry.toNanos();
  }

  /**
   * Records the box that it listens to from its start on; goes on at the end of a file that is
   * there already.
   *
   * @param bus the name of the bus in the log, such as {@code can0}: 1 to 15 letters, digits, dots,
   *     dashes or underscores
   * @param begin what the box knows when it starts
   * @param trouble is told, on a thread of the recorder's own, when nothing can be written
   * @throws IOException if the file cannot be opened for writing
   */
  public static SessionRecorder open(
      Path path, String bus, Item.Started begin, Consumer<String> trouble) throws IOException {
    return open(path, bus, begin, trouble, USUAL_RETRY);
  }

  static SessionRecorder open(
      Path path, String bus, Item.Started begin, Consumer<String> trouble, Duration retry)
      throws IOException {
    if (!FrameLogText.isBusName(bus)) {
      throw new IllegalArgumentException("bus name '" + bus + "', expected one such as 'can0'");
    }
    SessionRecorder recorder =
        new SessionRecorder(FrameLogFile.open(path), bus, begin, trouble, retry);
    recorder.writer.setDaemon(true);
    recorder.writer.start();
    return recorder;
  }

  /** What people know it by. */
  public String name() {
    return "recording " + file.path();
  }

  @Override
  public void started(long nowNs) {
    Instant now = Instant.now();
    zeroUs = now.getEpochSecond() * 1_000_000 + now.getNano() / NS_PER_US - nowNs / NS_PER_US;
    note(begin, nowNs);
  }

  @Override
  public void stopped(long nowNs) {
    note(new Item.Ended(), nowNs);
  }

  @Override
  public void connectionUp(String name, boolean asked, long nowNs) {
    note(new Item.Up(name, asked), nowNs);
  }

  @Override
  public void connectionDown(String name, String why, boolean missed, long nowNs) {
    note(new Item.Down(name, why, missed), nowNs);
  }

  @Override
  public void inputLost(long nowNs) {
    note(new Item.InputLost(), nowNs);
  }

  @Override
  public void kept(Optional<String> whyNot, long nowNs) {
    note(new Item.Kept(whyNot), nowNs);
  }

  @Override
  public void exchanged(String files, long nowNs) {
    note(new Item.Exchanged(files), nowNs);
  }

  @Override
  public void frameHeard(String from, CanFrame frame, long nowNs) {
    if (!from.equals(origin)) {
      origin = from;
      note(new Item.From(from), nowNs);
    }
    note(new Item.Heard(frame), nowNs);
  }

  @Override
  public void frameSent(CanFrame frame, long nowNs) {
    note(new Item.Sent(frame), nowNs);
  }

  /**
   * A person is about to ask the box for something; on the box's thread.
   *
   * @param at date and time where the railroad stands, if known
   * @return the number by which to tell the answer
   */
  public long told(String who, Optional<LocalDateTime> at, String sentence, long nowNs) {
    note(new Item.Told(++toldSoFar, who, at, sentence), nowNs);
    return toldSoFar;
  }

  /** The box has answered, at the latest moment that it has told of; on the box's thread. */
  public void answered(long number, Answer answer) {
    note(new Item.Answered(number, answer.granted(), answer.explanation().text()), latestNs);
  }

  private void note(Item item, long nowNs) {
    latestNs = nowNs;
    long timeUs = Math.max(0, zeroUs + nowNs / NS_PER_US);
    if (overflowed > 0 && queue.offer(new Entry(timeUs, new Item.Missing(overflowed), 0))) {
      overflowed = 0;
    }
    if (closed || overflowed > 0 || !queue.offer(new Entry(timeUs, item, 0))) {
      overflowed++;
      lost.increment();
    }
  }

  private void write() {
    List<Entry> batch = new ArrayList<>(BATCH_MAX);
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
  private void gather(List<Entry> batch) throws InterruptedException {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(FLUSH_MS);
    while (batch.size() < BATCH_MAX && !closed && System.nanoTime() - endNs < 0) {
      Entry next = queue.poll(FLUSH_MS / 10, TimeUnit.MILLISECONDS);
      if (next != null) {
        batch.add(next);
      }
    }
    queue.drainTo(batch, BATCH_MAX - batch.size());
  }

  private void write(List<Entry> batch) {
    if (batch.isEmpty()) {
      return;
    }
    if (isFailing && System.nanoTime() - failedNs < retryNs) {
      miss(batch);
      return;
    }
    try {
      file.append(lines(batch));
      written();
    } catch (IOException e) {
      miss(batch);
      failed(e);
    }
  }

  private List<String> lines(List<Entry> batch) {
    List<String> lines = new ArrayList<>(batch.size());
    if (unwritten.get() > 0) {
      lines.addAll(lines(new Entry(batch.get(0).timeUs(), new Item.Missing(unwritten.get()), 0)));
    }
    batch.forEach(entry -> lines.addAll(lines(entry)));
    return lines;
  }

  private List<String> lines(Entry entry) {
    if (entry.item() instanceof Item.Heard heard) {
      return List.of(FrameLogText.write(new LoggedFrame(entry.timeUs(), heard.frame()), bus));
    }
    if (entry.item() instanceof Item.Sent sent) {
      return List.of(
          FrameLogText.write(new LoggedFrame(entry.timeUs(), sent.frame()), bus)
              + FrameLogText.SENT);
    }
    return NoteText.write(Notes.of(entry.timeUs(), entry.item()));
  }

  private void miss(List<Entry> batch) {
    lost.add(batch.size());
    unwritten.addAndGet(batch.size());
  }

  private void written() {
    unwritten.set(0);
    if (isFailing) {
      isFailing = false;
      LOG.info("{} goes on; {} things were lost so far", name(), lost.sum());
    }
  }

  private void failed(IOException cause) {
    failedNs = System.nanoTime();
    if (!isFailing) {
      isFailing = true;
      trouble.accept("cannot be written, frames are lost: " + cause.getMessage());
    }
  }

  /** What was heard but not written. */
  public long lost() {
    return lost.sum();
  }

  /** Writes what waits and closes the file; waits for it, but for 5 s at most. */
  @Override
  public void close() {
    closed = true;
    try {
      writer.join(CLOSE_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
