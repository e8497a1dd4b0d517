package tappet.bridge.record;

import java.io.Closeable;
import java.io.IOException;
import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.LongAdder;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxListener;
import tappet.interlocking.Answer;
import tappet.lcc.CanFrame;

/**
 * Takes down all that the box takes in and sends, in the box's order and with the box's times. It
 * never holds up the box: what is to be written waits in a bounded queue for a thread that alone
 * touches the book, and what finds it full is counted as missing, in the book too. A book that
 * cannot be written is told of once, and tried again.
 *
 * @param <T> one thing as the book has it
 */
public abstract class Scribe<T> implements BoxListener, Closeable {

  /** Some 17 seconds of the busiest bus. */
  static final int QUEUE_MAX = 16_384;

  /** How long a book that could not be written is left alone. */
  protected static final Duration USUAL_RETRY = Duration.ofSeconds(5);

  private static final Logger LOG = LoggerFactory.getLogger(Scribe.class);
  private static final int BATCH_MAX = 1024;
  private static final long FLUSH_MS = 1_000;
  private static final long CLOSE_MS = 5_000;
  private static final long NS_PER_US = 1_000;

  private final Book<T> book;
  private final Item.Started begin;
  private final Trouble trouble;
  private final long retryNs;
  private final BlockingQueue<T> queue = new ArrayBlockingQueue<>(QUEUE_MAX);
  private final LongAdder lost = new LongAdder();
  private final Thread writer;

  private volatile boolean closed;

  // Of the writer.
  private long unwritten;
  private boolean isFailing;
  private long failedNs;

  // Of the box's thread.
  private long startUs;
  private long latestUs;
  private long overflowed;
  private long toldSoFar;

  /**
   * @param begin what the box knows when it starts
   * @param trouble is told when nothing can be written, and when it can again
   * @param retry how long a book that could not be written is left alone
   */
  protected Scribe(Book<T> book, Item.Started begin, Trouble trouble, Duration retry) {
    this.book = book;
    this.begin = begin;
    this.trouble = trouble;
    this.retryNs = retry.toNanos();
    this.writer = new Thread(this::write, book.name());
  }

  /**
   * How the book has something; on the box's thread.
   *
   * @param sinceStartUs the box's time since it began, in microseconds
   */
  protected abstract T entry(long sinceStartUs, Item item);

  /** How many things this says are missing; 0 where it says something else. */
  protected abstract long missing(T entry);

  /** Lets the writer begin; once, when all is set up. */
  protected final void begin() {
    writer.setDaemon(true);
    writer.start();
  }

  /** What people know it by. */
  public final String name() {
    return book.name();
  }

  @Override
  public void started(long nowNs) {
    startUs = nowNs / NS_PER_US;
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
  public void overheard(String name, long nowNs) {
    note(new Item.Overheard(name), nowNs);
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
  public void exchanged(String files, long nowNs) {
    note(new Item.Exchanged(files), nowNs);
  }

  @Override
  public void kept(Optional<String> whyNot, long nowNs) {
    note(new Item.Kept(whyNot), nowNs);
  }

  @Override
  public void frameHeard(String from, CanFrame frame, long nowNs) {
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
  public final long told(String who, Optional<LocalDateTime> at, String sentence, long nowNs) {
    note(new Item.Told(++toldSoFar, who, at, sentence), nowNs);
    return toldSoFar;
  }

  /** The box has answered, at the latest moment that it has told of; on the box's thread. */
  public final void answered(long number, Answer answer) {
    put(entry(latestUs, new Item.Answered(number, answer.granted(), answer.explanation().text())));
  }

  /** Takes something down; on the box's thread. */
  protected final void note(Item item, long nowNs) {
    advanceTo(nowNs);
    put(entry(latestUs, item));
  }

  /** The box has come to this time; on the box's thread. */
  protected final void advanceTo(long nowNs) {
    latestUs = nowNs / NS_PER_US - startUs;
  }

  /** The latest moment that the box has told of, in microseconds since it began. */
  protected final long latestUs() {
    return latestUs;
  }

  /** Lays something into the queue; on the box's thread. */
  protected final void put(T entry) {
    if (overflowed > 0 && queue.offer(entry(latestUs, new Item.Missing(overflowed)))) {
      overflowed = 0;
    }
    if (closed || overflowed > 0 || !queue.offer(entry)) {
      overflowed++;
      lost.increment();
    }
  }

  private void write() {
    List<T> batch = new ArrayList<>(BATCH_MAX);
    try {
      while (!closed || !queue.isEmpty()) {
        gather(batch);
        write(batch);
        batch.clear();
      }
      book.close();
    } catch (IOException e) {
      LOG.warn("{} could not be closed: {}", name(), e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Collects for a second at most, so that a quiet bus costs one write a second. */
  private void gather(List<T> batch) throws InterruptedException {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(FLUSH_MS);
    while (batch.size() < BATCH_MAX && !closed && System.nanoTime() - endNs < 0) {
      T next = queue.poll(FLUSH_MS / 10, TimeUnit.MILLISECONDS);
      if (next != null) {
        batch.add(next);
      }
    }
    queue.drainTo(batch, BATCH_MAX - batch.size());
  }

  private void write(List<T> batch) {
    if (batch.isEmpty()) {
      return;
    }
    if (isFailing && System.nanoTime() - failedNs < retryNs) {
      miss(batch);
      return;
    }
    try {
      book.append(batch, unwritten);
      written();
    } catch (IOException | RuntimeException e) {
      miss(batch);
      failed(e);
    }
  }

  /** What found no room in the queue is lost already where a note of it is lost as well. */
  private void miss(List<T> batch) {
    for (T each : batch) {
      long overflow = missing(each);
      lost.add(overflow > 0 ? 0 : 1);
      unwritten += Math.max(1, overflow);
    }
  }

  private void written() {
    unwritten = 0;
    if (isFailing) {
      isFailing = false;
      LOG.info("{} goes on; {} things were lost so far", name(), lost.sum());
      trouble.over();
    }
  }

  private void failed(Exception cause) {
    failedNs = System.nanoTime();
    if (!isFailing) {
      isFailing = true;
      trouble.arises(
          "cannot be written: %s; what happens now is lost to it, the interlocking goes on"
              .formatted(cause.getMessage()));
    }
  }

  /** What was heard but not written. */
  public final long lost() {
    return lost.sum();
  }

  /** Writes what waits and closes the book; waits for it, but for 5 s at most. */
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
