package tappet.simulator;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.BiConsumer;
import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.LccNode;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;

/**
 * A board under the layout: a node that produces and consumes the events of what is wired to it.
 */
final class Board implements Port, LccNode.Application {

  private final NodeId id;
  private final BiConsumer<Port, CanFrame> send;
  private final Map<EventId, BooleanSupplier> produced = new LinkedHashMap<>();
  private final Map<EventId, Consumption> consumed = new LinkedHashMap<>();
  private final Set<EventId> unsaid = new LinkedHashSet<>();
  private LccNode node;
  private boolean silent;

  /** What an event does, and whether things stand as if it had been the last to do so. */
  private record Consumption(LongConsumer act, BooleanSupplier stands) {}

  /**
   * @param send takes this board and the frame it sends
   */
  Board(NodeId id, BiConsumer<Port, CanFrame> send) {
    this.id = id;
    this.send = send;
    this.node = newNode();
  }

  private LccNode newNode() {
    return new LccNode(id, this, frame -> send.accept(this, frame));
  }

  /** Wires an input of the board. {@code stands} tells whether its state is the event's. */
  void produce(EventId event, BooleanSupplier stands) {
    produced.put(event, stands);
  }

  /** Wires an output of the board. */
  void consume(EventId event, LongConsumer act, BooleanSupplier stands) {
    consumed.put(event, new Consumption(act, stands));
  }

  /** Begins to reserve an alias. */
  void start(long nowNs) {
    node.start(nowNs);
  }

  /** Unplugs the bus: what is wired to the board stays as it is. */
  void silence() {
    silent = true;
  }

  /** Plugs the bus in again: the board begins anew. */
  void restore(long nowNs) {
    if (silent) {
      silent = false;
      node = newNode();
      node.start(nowNs);
    }
  }

  NodeId id() {
    return id;
  }

  boolean isReady() {
    return !silent && node.ready();
  }

  OptionalLong deadlineNs() {
    return silent ? OptionalLong.empty() : node.deadlineNs();
  }

  void advance(long nowNs) {
    if (!silent) {
      node.advance(nowNs);
    }
  }

  @Override
  public void hear(CanFrame frame, long nowNs) {
    if (!silent) {
      node.receive(frame, nowNs);
    }
  }

  /** Tells that an event has happened; while the board cannot speak, it keeps it in mind. */
  void report(EventId event) {
    if (!isReady() || !node.report(event)) {
      unsaid.add(event);
    }
  }

  /** Tells what happened while the board could not speak, as far as it still holds. */
  @Override
  public void ready(long nowNs) {
    List<EventId> events = List.copyOf(unsaid);
    unsaid.clear();
    events.stream().filter(event -> produced.get(event).getAsBoolean()).forEach(this::report);
  }

  @Override
  public List<EventId> produced() {
    return List.copyOf(produced.keySet());
  }

  @Override
  public List<EventId> consumed() {
    return List.copyOf(consumed.keySet());
  }

  @Override
  public Validity producerState(EventId event) {
    return validity(produced.get(event));
  }

  @Override
  public Validity consumerState(EventId event) {
    return validity(consumed.get(event).stands());
  }

  private static Validity validity(BooleanSupplier stands) {
    return stands.getAsBoolean() ? Validity.VALID : Validity.INVALID;
  }

  @Override
  public void eventReported(EventId event, long nowNs) {
    Consumption consumption = consumed.get(event);
    if (consumption != null) {
      consumption.act().accept(nowNs);
    }
  }

  @Override
  public void producerIdentified(EventId event, Validity validity, long nowNs) {}

  @Override
  public void consumerIdentified(EventId event, Validity validity, long nowNs) {}
}
