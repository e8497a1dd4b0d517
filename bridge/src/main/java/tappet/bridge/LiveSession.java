package tappet.bridge;

import java.io.Closeable;
import java.io.Writer;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.Tempo;
import tappet.bridge.session.Journal;
import tappet.bridge.session.Railroad;
import tappet.bridge.session.Session;
import tappet.bridge.session.SessionPlan;

/** A session in the running daemon, on a thread of its own, until it is closed. */
final class LiveSession implements Closeable {

  private static final Logger LOG = LoggerFactory.getLogger(LiveSession.class);

  private final ScheduledExecutorService thread =
      Executors.newSingleThreadScheduledExecutor(task -> new Thread(task, "session"));
  private final Session session;

  private LiveSession(SessionPlan plan, Railroad railroad, long seed) {
    session = new Session(plan, railroad, new Journal(Writer.nullWriter()), seed);
  }

  /**
   * Begins at once; until the box takes orders it is refused, and asks again.
   *
   * @param seed decides small delays of crews and the order of equal wishes
   */
  @SuppressWarnings("FutureReturnValueIgnored")
  static LiveSession start(SessionPlan plan, Railroad railroad, long seed, Tempo tempo) {
    LiveSession live = new LiveSession(plan, railroad, seed);
    long restNs = tempo.realNs(Session.LOOK_NS);
    live.thread.scheduleWithFixedDelay(live::look, 0, restNs, TimeUnit.NANOSECONDS);
    return live;
  }

  /** A look that fails, as while the box is overrun, is no reason not to look again. */
  private void look() {
    try {
      session.look();
    } catch (RuntimeException e) {
      LOG.warn("The session's dispatcher could not look at the railroad: {}", e.toString());
    }
  }

  @Override
  public void close() {
    thread.shutdownNow();
    try {
      boolean unused = thread.awaitTermination(1, TimeUnit.SECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public String toString() {
    return "the session";
  }
}
