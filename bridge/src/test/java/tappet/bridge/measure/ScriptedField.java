package tappet.bridge.measure;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.LccNode;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;

/**
 * The boards of a layout as one real node on the hub: it answers what the daemon asks about the
 * state of sections, and reports what it is told to report.
 */
final class ScriptedField implements Line.Listener, LccNode.Application, AutoCloseable {

  private static final NodeId NODE = NodeId.of("0A.58.00.00.00.99");
  private static final long PATIENCE_S = 20;

  /** Hears the daemon's reports, on the line's thread. */
  interface Listener {
    void reported(EventId event, long nowNs);
  }

  private final Line line;
  private final LccNode node;
  private final Listener listener;
  private final Map<EventId, Validity> states = new ConcurrentHashMap<>();
  private final List<EventId> produced;
  private final CountDownLatch ready = new CountDownLatch(1);

  /**
   * Joins the hub.
   *
   * @param states what the boards' sections say at first
   */
  ScriptedField(InetSocketAddress hub, Map<EventId, Validity> states, Listener listener)
      throws IOException {
    this.states.putAll(states);
    this.produced = states.keySet().stream().sorted().toList();
    this.listener = listener;
    line = Line.to(hub);
    node = new LccNode(NODE, this, line::send);
    node.start(System.nanoTime());
    line.listen(this);
  }

  /** Waits until the node may speak. */
  void awaitReady() throws IOException, InterruptedException {
    if (!ready.await(PATIENCE_S, TimeUnit.SECONDS)) {
      throw new IOException("the hub gave the field no alias in " + PATIENCE_S + " s");
    }
  }

  /** Reports one of two opposite events; from any thread. */
  void report(EventId event, EventId opposite) {
    states.put(event, Validity.VALID);
    states.put(opposite, Validity.INVALID);
    line.send(new Message.EventReport(node.alias(), event).encode());
  }

  @Override
  public void heard(CanFrame frame, long nowNs) {
    if (Messages.decode(frame) instanceof Message.EventReport report) {
      listener.reported(report.event(), nowNs);
    }
    node.receive(frame, nowNs);
  }

  @Override
  public void idle(long nowNs) {
    node.advance(nowNs);
  }

  @Override
  public List<EventId> produced() {
    return produced;
  }

  @Override
  public List<EventId> consumed() {
    return List.of();
  }

  @Override
  public Validity producerState(EventId event) {
    return states.getOrDefault(event, Validity.UNKNOWN);
  }

  @Override
  public Validity consumerState(EventId event) {
    return Validity.UNKNOWN;
  }

  @Override
  public void ready(long nowNs) {
    ready.countDown();
  }

  @Override
  public void eventReported(EventId event, long nowNs) {}

  @Override
  public void producerIdentified(EventId event, Validity validity, long nowNs) {}

  @Override
  public void consumerIdentified(EventId event, Validity validity, long nowNs) {}

  @Override
  public void close() throws IOException {
    line.close();
  }
}
