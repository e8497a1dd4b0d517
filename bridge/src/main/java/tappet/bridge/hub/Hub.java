package tappet.bridge.hub;

import io.netty.channel.EventLoop;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.LongAdder;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.slf4j.event.Level;
import tappet.lcc.CanFrame;

/**
 * Copies every frame to all other connections, once and in order, and tells it to the listener. A
 * connection that closes a ring is cut off until the ring is gone ({@link RingGuard}).
 *
 * <p><b>Thread rule:</b> everything happens on one event loop. Each public method may be called
 * from any thread; off the loop it is handed over as one task and has not happened yet when it
 * returns. Frames given together are one pass with one flush at its end.
 */
public final class Hub {

  private static final Logger LOG = LoggerFactory.getLogger(Hub.class);

  private final EventLoop loop;
  private final HubListener listener;

  private final LongAdder heard = new LongAdder();
  private final LongAdder told = new LongAdder();
  private final LongAdder forwarded = new LongAdder();
  private final LongAdder strays = new LongAdder();
  private final LongAdder refused = new LongAdder();
  private final LongAdder held = new LongAdder();
  private final LongAdder faults = new LongAdder();

  /** Replaced, never changed, and only on the loop: a pass may lose a connection on its way. */
  private volatile List<Connection> connections = List.of();

  /** The connections to which frames flow: those that hear and are not cut off. */
  private volatile List<Connection> open = List.of();

  private volatile int cutOff;

  private final RingGuard guard = new RingGuard(new Side(), new SplittableRandom());
  private Future<?> wake;

  /** Frames that came up during a pass; sent after it, so that all connections see one order. */
  private final ArrayDeque<Batch> waiting = new ArrayDeque<>();

  private boolean passing;

  public Hub(EventLoop loop, HubListener listener) {
    this.loop = loop;
    this.listener = listener;
  }

  /** The one event loop on which everything happens. */
  public EventLoop loop() {
    return loop;
  }

  /** Lets frames flow from and to this connection. One already attached stays as it is. */
  public void attach(Connection connection) {
    onLoop(() -> add(connection));
  }

  /** A frame heard by this connection, for all others and the listener. */
  public void frameFrom(Connection from, CanFrame frame) {
    framesFrom(from, List.of(frame));
  }

  /**
   * Frames heard by this connection in one go, for all others and the listener.
   *
   * @param frames in the order heard; the caller may reuse the list after the call
   */
  public void framesFrom(Connection from, List<CanFrame> frames) {
    take(from, frames);
  }

  /** A frame from the daemon's own node, for every connection. */
  public void send(CanFrame frame) {
    sendAll(List.of(frame));
  }

  /**
   * Frames from the daemon's own node, for every connection.
   *
   * @param frames in the order to send; the caller may reuse the list after the call
   */
  public void sendAll(List<CanFrame> frames) {
    take(Daemon.DAEMON, frames);
  }

  /**
   * Ends the flow of frames. One not attached (any more) is left alone, so that going down is told
   * once.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  public void detach(Connection connection, String why) {
    onLoop(() -> remove(connection, why, Level.WARN));
  }

  /**
   * As {@link #detach}, but by somebody's wish: the log shows it as news, not as a problem.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  public void dismiss(Connection connection, String why) {
    onLoop(() -> remove(connection, why, Level.INFO));
  }

  /**
   * Tells that a connection the owner asked for could not be made. The caller says it once an
   * outage.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  public void missing(Connection connection, String why) {
    onLoop(() -> tellDown(connection, why, Level.WARN));
  }

  /**
   * Tells of something wrong with a line on which frames flow all the same. The caller says it once
   * an occasion.
   *
   * @param what the end of a sentence that begins with the connection's name
   */
  public void trouble(Connection connection, String what) {
    onLoop(() -> tellTrouble(connection, what));
  }

  /**
   * Tells that what was wrong with a line is over.
   *
   * @param beginning how it began as it was told; all trouble of the line that did is over
   */
  public void troubleOver(Connection connection, String beginning) {
    onLoop(() -> tellTroubleOver(connection, beginning));
  }

  /** The connections attached now, in the order in which they came. */
  public List<Connection> connections() {
    return connections;
  }

  /** What the hub did so far. */
  public HubCounters counters() {
    return new HubCounters(
        heard.sum(),
        told.sum(),
        forwarded.sum(),
        strays.sum(),
        refused.sum(),
        held.sum(),
        faults.sum(),
        connections.size(),
        cutOff);
  }

  /** Runs a task on the loop: at once when called there, else as a task of its own. */
  public void onLoop(Runnable task) {
    if (loop.inEventLoop()) {
      task.run();
    } else {
      handOver(task);
    }
  }

  private void handOver(Runnable task) {
    try {
      loop.execute(task);
    } catch (RejectedExecutionException e) {
      LOG.debug("The hub is closed: a late call is dropped", e);
    }
  }

  private void add(Connection connection) {
    if (connections.contains(connection)) {
      return;
    }
    connections = Stream.concat(connections.stream(), Stream.of(connection)).toList();
    sortOutOpen();
    LOG.info("{} is up", connection.name());
    guarded(() -> tellUp(connection));
  }

  private void tellUp(Connection connection) {
    if (connection.access().hears()) {
      listener.connectionUp(connection);
    } else {
      listener.overheard(connection);
    }
  }

  private void remove(Connection connection, String why, Level level) {
    if (connections.contains(connection)) {
      connections = connections.stream().filter(other -> other != connection).toList();
      guard.gone(connection, System.nanoTime());
      sortOutOpen();
      tellDown(connection, why, level);
    }
  }

  private void sortOutOpen() {
    cutOff = (int) connections.stream().filter(guard::isCut).count();
    open =
        connections.stream()
            .filter(connection -> connection.access().hears() && !guard.isCut(connection))
            .toList();
  }

  private void tellDown(Connection connection, String why, Level level) {
    LOG.atLevel(level).log("{} {}", connection.name(), why);
    guarded(() -> listener.connectionDown(connection, why));
  }

  private void tellTrouble(Connection connection, String what) {
    LOG.warn("{} {}", connection.name(), what);
    guarded(() -> listener.trouble(connection, what));
  }

  private void tellTroubleOver(Connection connection, String beginning) {
    LOG.info("Over: {} {}", connection.name(), beginning);
    guarded(() -> listener.troubleOver(connection, beginning));
  }

  private void take(Connection from, List<CanFrame> frames) {
    if (frames.isEmpty()) {
      return;
    }
    if (!loop.inEventLoop()) {
      List<CanFrame> copy = List.copyOf(frames);
      handOver(() -> take(from, copy));
    } else if (passing) {
      waiting.add(new Batch(from, List.copyOf(frames)));
    } else {
      pass(from, frames);
    }
  }

  private void pass(Connection from, List<CanFrame> frames) {
    passing = true;
    try {
      forwardAll(from, frames);
      for (Batch next = waiting.poll(); next != null; next = waiting.poll()) {
        forwardAll(next.from, next.frames);
      }
    } finally {
      passing = false;
    }
    flush();
  }

  private void forwardAll(Connection from, List<CanFrame> frames) {
    if (from != Daemon.DAEMON && !connections.contains(from)) {
      strays.add(frames.size());
      return;
    }
    if (!from.access().speaks()) {
      refused.add(frames.size());
      return;
    }
    (from == Daemon.DAEMON ? told : heard).add(frames.size());
    List<CanFrame> passed = passed(from, frames);
    if (!passed.isEmpty()) {
      forward(from, FrameBatch.of(passed));
    }
  }

  /** The frames that the guard does not keep; mostly all. */
  private List<CanFrame> passed(Connection from, List<CanFrame> frames) {
    long nowNs = System.nanoTime();
    List<CanFrame> some = null;
    for (int i = 0; i < frames.size(); i++) {
      boolean keeps = guard.keeps(from, frames.get(i), nowNs);
      if (keeps) {
        held.increment();
      }
      if (keeps && some == null) {
        some = new ArrayList<>(frames.subList(0, i));
      } else if (!keeps && some != null) {
        some.add(frames.get(i));
      }
    }
    return some == null ? frames : some;
  }

  private void forward(Connection from, FrameBatch batch) {
    List<Connection> all = open;
    for (int i = 0; i < all.size(); i++) {
      if (all.get(i) != from) {
        give(all.get(i), batch);
      }
    }
    if (from != Daemon.DAEMON) {
      tellAll(from, batch.frames());
    }
  }

  /** A connection that throws is dropped: one mistake must not silence the others. */
  private void give(Connection to, FrameBatch batch) {
    try {
      to.sendAll(batch);
      forwarded.add(batch.frames().size());
    } catch (RuntimeException e) {
      drop(to, e);
    }
  }

  private void tellAll(Connection from, List<CanFrame> frames) {
    for (int i = 0; i < frames.size(); i++) {
      tell(from, frames.get(i));
    }
  }

  private void tell(Connection from, CanFrame frame) {
    try {
      listener.frameArrived(from, frame);
    } catch (RuntimeException e) {
      fault("The listener failed on a frame from " + from.name(), e);
    }
  }

  private void flush() {
    List<Connection> all = connections;
    for (int i = 0; i < all.size(); i++) {
      flush(all.get(i));
    }
  }

  private void flush(Connection connection) {
    try {
      connection.flush();
    } catch (RuntimeException e) {
      drop(connection, e);
    }
  }

  private void drop(Connection connection, RuntimeException cause) {
    String why = "was dropped: " + cause;
    fault(connection.name() + " failed", cause);
    remove(connection, why, Level.WARN);
    guarded(() -> connection.breakOff(why));
  }

  private void guarded(Runnable call) {
    try {
      call.run();
    } catch (RuntimeException e) {
      fault("A call from the hub failed", e);
    }
  }

  /** The first fault is logged whole, further ones are only counted: they may come a frame. */
  private void fault(String what, RuntimeException cause) {
    if (faults.sum() == 0) {
      LOG.error("{}; further faults are counted only", what, cause);
    }
    faults.increment();
  }

  /** What the guard against rings may do with the hub. */
  private final class Side implements RingGuard.Ringside {
    @Override
    public List<Connection> connections() {
      return connections.stream().filter(one -> one.access() == Access.FULL).toList();
    }

    @Override
    public void sendDown(Connection to, CanFrame frame) {
      give(to, FrameBatch.of(List.of(frame)));
    }

    @Override
    public void cut(Connection connection, String why) {
      sortOutOpen();
      LOG.warn("{} {}", connection.name(), why);
      guarded(() -> listener.cutOff(connection, why));
    }

    @Override
    public void putBack(Connection connection) {
      sortOutOpen();
      LOG.info("{} is put back: the ring is gone", connection.name());
      guarded(() -> listener.putBack(connection));
    }

    @Override
    public void wakeAfter(long delayNs) {
      if (wake != null) {
        wake.cancel(false);
      }
      wake = loop.schedule(Hub.this::wakeGuard, delayNs, TimeUnit.NANOSECONDS);
    }
  }

  private void wakeGuard() {
    guard.wake(System.nanoTime());
    flush();
  }

  private record Batch(Connection from, List<CanFrame> frames) {}

  /** Stands for the daemon's own node as the sender of a frame. */
  private enum Daemon implements Connection {
    DAEMON;

    @Override
    public void send(CanFrame frame) {
      throw new IllegalStateException("the daemon hears through the listener");
    }

    @Override
    public void close() {}
  }
}
