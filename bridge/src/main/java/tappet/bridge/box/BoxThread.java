package tappet.bridge.box;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.LongAccumulator;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.BiFunction;
import java.util.function.LongConsumer;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.HubListener;
import tappet.lcc.CanFrame;

/**
 * The single writer: one thread, one queue, one clock for the box. Anyone may call its methods;
 * each puts one message into the queue and returns at once.
 *
 * <p>The queue is bounded. A message that finds it full is lost, and the box is then told that it
 * can trust nothing it knows. Some of its room is kept for questions, and for words: that a line
 * came or went, that something is wrong or is over. Nobody says them twice, so none is lost.
 */
public final class BoxThread implements HubListener, AutoCloseable {

  /** About ten seconds of a full bus. */
  static final int QUEUE_CAPACITY_MAX = 8_192;

  /** Room that a flood of frames leaves to people, to those who watch the box, and to words. */
  static final int KEPT_FOR_QUESTIONS = 256;

  private static final long IDLE_NS = TimeUnit.SECONDS.toNanos(1);

  /** Something to be done in the box. */
  private interface Message {
    void take(SignalBox box, long nowNs);

    /** Nobody will take it any more. */
    default void refuse() {}
  }

  private final BlockingQueue<Message> queue = new ArrayBlockingQueue<>(QUEUE_CAPACITY_MAX);

  /**
   * The last words about each thing, in the order in which they were said, while the queue has no
   * room even for them. Guarded by itself: what goes there is younger than all words in the queue.
   */
  private final Map<String, Message> lastWords = new LinkedHashMap<>();

  private final AtomicBoolean lost = new AtomicBoolean();
  private final LongAdder inputsLost = new LongAdder();
  private final LongAccumulator waitedMost = new LongAccumulator(Math::max, 0);
  private final Thread thread = new Thread(this::run, "signal-box");
  private final Tempo tempo;
  private SignalBox box;
  private volatile LongConsumer reactions = ns -> {};
  private volatile boolean open = true;
  private volatile boolean ended;

  /** A box that lives at this tempo. */
  public BoxThread(Tempo tempo) {
    this.tempo = tempo;
  }

  /** Starts the thread with this box; from now on nobody else may touch it. */
  public void start(SignalBox signalBox) {
    box = signalBox;
    thread.start();
  }

  @Override
  public void frameArrived(Connection from, CanFrame frame) {
    String name = from.name();
    long heardNs = System.nanoTime();
    put(
        (box, nowNs) -> {
          box.frameArrived(name, frame, nowNs);
          reactions.accept(System.nanoTime() - heardNs);
        });
  }

  @Override
  public void cutOff(Connection connection, String why) {
    String name = connection.name();
    say(aboutRing(name), (box, nowNs) -> box.cutOff(name, why, nowNs));
  }

  @Override
  public void putBack(Connection connection) {
    String name = connection.name();
    boolean asked = connection.asked();
    say(aboutRing(name), (box, nowNs) -> box.connectionUp(name, asked, nowNs));
  }

  /** That it was cut off must not take the place of the word that it came. */
  private static String aboutRing(String connection) {
    return connection + " in a ring";
  }

  @Override
  public void trouble(Connection connection, String what) {
    trouble(connection.name(), what);
  }

  /**
   * Raises an alarm.
   *
   * @param what the end of a sentence that begins with the name
   */
  public void trouble(String name, String what) {
    say(name + " " + what, (box, nowNs) -> box.trouble(name, what));
  }

  @Override
  public void troubleOver(Connection connection, String beginning) {
    String name = connection.name();
    say(name + " " + beginning, (box, nowNs) -> box.troubleOver(name, beginning));
  }

  /** Whatever was wrong with what has this name is over. */
  public void troubleOver(String name) {
    say(name, (box, nowNs) -> box.troubleOver(name));
  }

  @Override
  public void connectionUp(Connection connection) {
    if (!connection.leadsToNodes()) {
      return;
    }
    String name = connection.name();
    boolean asked = connection.asked();
    say(name, (box, nowNs) -> box.connectionUp(name, asked, nowNs));
  }

  @Override
  public void overheard(Connection connection) {
    String name = connection.name();
    say(name, (box, nowNs) -> box.overheard(name, nowNs));
  }

  @Override
  public void connectionDown(Connection connection, String why) {
    if (!connection.leadsToNodes()) {
      return;
    }
    String name = connection.name();
    boolean asked = connection.asked();
    say(name, (box, nowNs) -> box.connectionDown(name, why, asked, nowNs));
  }

  /**
   * Asks the box something and gets the answer later; it fails if the queue is full, or the box
   * fails by it or has ended.
   */
  public <T> CompletableFuture<T> ask(BiFunction<SignalBox, Long, T> question) {
    CompletableFuture<T> answer = new CompletableFuture<>();
    Message message = new Question<>(question, answer);
    if (!offer(message)) {
      answer.completeExceptionally(new IllegalStateException("the daemon is overrun"));
    } else if (ended) {
      message.refuse();
    }
    return answer;
  }

  /**
   * Takes how long it takes, in nanoseconds, from hearing a frame until all that the box says to it
   * has been handed to the hub. On the box's thread.
   */
  public void measureReactions(LongConsumer meter) {
    reactions = meter;
  }

  /** How many messages wait for the box. */
  public int waiting() {
    return queue.size();
  }

  /** The most that have ever waited. */
  public long waitedMost() {
    return waitedMost.get();
  }

  /** How many messages found the queue full; answers that were asked for are not among them. */
  public long inputsLost() {
    return inputsLost.sum();
  }

  /** What the thread is at now. */
  public StackTraceElement[] stack() {
    return thread.getStackTrace();
  }

  /**
   * Lets the box look around once more. Where its queue is full it does so anyway, and nothing is
   * lost.
   */
  public void wake() {
    boolean unused = queue.offer((box, nowNs) -> {});
  }

  /** Puts every signal to Stop, ends the thread and waits for it. */
  @Override
  public void close() {
    open = false;
    put((box, nowNs) -> {});
    try {
      thread.join(TimeUnit.SECONDS.toMillis(5));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    refuseWhatWaits();
  }

  private void put(Message message) {
    boolean hasRoom = queue.remainingCapacity() > KEPT_FOR_QUESTIONS;
    if (!hasRoom || !offer(message)) {
      inputsLost.increment();
      lost.set(true);
    }
  }

  /**
   * Says what is never lost.
   *
   * @param about where the queue is full, the last word about it waits, and no other
   */
  private void say(String about, Message word) {
    synchronized (lastWords) {
      if (!lastWords.isEmpty() || !offer(word)) {
        lastWords.remove(about);
        lastWords.put(about, word);
        lost.set(true);
      }
    }
  }

  private boolean offer(Message message) {
    boolean taken = queue.offer(message);
    waitedMost.accumulate(queue.size());
    return taken;
  }

  private void run() {
    try {
      live();
    } finally {
      refuseWhatWaits();
    }
  }

  /** A question that comes later sees for itself that nobody is there. */
  private void refuseWhatWaits() {
    ended = true;
    List<Message> waiting = new ArrayList<>();
    queue.drainTo(waiting);
    waiting.forEach(Message::refuse);
  }

  private void live() {
    take(SignalBox::start, tempo.nowNs());
    while (open) {
      Message message = next();
      long nowNs = tempo.nowNs();
      take(SignalBox::advance, nowNs);
      if (message != null) {
        take(message, nowNs);
      }
      if (lost.get()) {
        forgetAll();
      }
    }
    take(SignalBox::stop, tempo.nowNs());
  }

  /** What waits in the queue is older than what was lost: heard later, it would pass for news. */
  private void forgetAll() {
    older().forEach(message -> take(message, tempo.nowNs()));
    take(SignalBox::inputLost, tempo.nowNs());
  }

  private List<Message> older() {
    List<Message> older = new ArrayList<>();
    synchronized (lastWords) {
      lost.set(false);
      queue.drainTo(older);
      older.addAll(lastWords.values());
      lastWords.clear();
    }
    return older;
  }

  /** A thread that ends by a fault would leave its signals as they are. */
  private void take(Message message, long nowNs) {
    try {
      message.take(box, nowNs);
    } catch (RuntimeException | Error e) {
      box.fail(e);
    }
  }

  private Message next() {
    try {
      return queue.poll(waitNs(), TimeUnit.NANOSECONDS);
    } catch (InterruptedException e) {
      open = false;
      return null;
    }
  }

  private long waitNs() {
    OptionalLong deadline = box.deadlineNs();
    long leftNs = deadline.isPresent() ? tempo.waitNs(deadline.getAsLong()) : IDLE_NS;
    return Math.min(leftNs, IDLE_NS);
  }

  /** What somebody waits to be answered. */
  private record Question<T>(BiFunction<SignalBox, Long, T> asked, CompletableFuture<T> answer)
      implements Message {

    @Override
    public void take(SignalBox box, long nowNs) {
      try {
        answer.complete(asked.apply(box, nowNs));
      } catch (RuntimeException e) {
        answer.completeExceptionally(e);
      } catch (Error e) {
        answer.completeExceptionally(e);
        throw e;
      }
    }

    @Override
    public void refuse() {
      answer.completeExceptionally(new IllegalStateException("the daemon has ended"));
    }
  }
}
