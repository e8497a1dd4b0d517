package tappet.simulator;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.BiConsumer;
import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import java.util.function.LongSupplier;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.LccNode;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.sentence.Happening.EventFault;

/**
 * A board under the layout: a node that produces and consumes the events of what is wired to it.
 */
final class Board implements Port, LccNode.Application {

  private final NodeId id;
  private final BiConsumer<Port, CanFrame> send;
  private final Map<EventId, BooleanSupplier> produced = new LinkedHashMap<>();
  private final Map<EventId, Consumption> consumed = new LinkedHashMap<>();
  private final Set<EventId> unsaid = new LinkedHashSet<>();
  private final LongSupplier now;

  /** What the board tells of these events, whatever is wired to it. */
  private final Map<EventId, Boolean> misreported = new HashMap<>();

  /** What will become of events to come, the next one first. */
  private final Map<EventFault, Integer> faults = new EnumMap<>(EventFault.class);

  private final Deque<Late> late = new ArrayDeque<>();
  private long delayNs;
  private Optional<HeartbeatWatch> heartbeat = Optional.empty();
  private LccNode node;
  private boolean silent;

  /** What an event does, and whether things stand as if it had been the last to do so. */
  private record Consumption(LongConsumer act, BooleanSupplier stands) {}

  /** An event that the board has yet to send. */
  private record Late(EventId event, long dueNs) {}

  /**
   * @param send takes this board and the frame it sends
   * @param now tells the time, in nanoseconds
   */
  Board(NodeId id, BiConsumer<Port, CanFrame> send, LongSupplier now) {
    this.id = id;
    this.now = now;
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

  /** The board obeys nothing that this withholds. */
  void watch(HeartbeatWatch watch) {
    heartbeat = Optional.of(watch);
  }

  /** Whether an event is one of those that are wired to the board. */
  boolean owns(EventId event) {
    return event.allocatedBy().equals(id);
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
      reboot(nowNs);
    }
  }

  /** Begins anew, with another alias; what is wired to the board stays as it is. */
  void reboot(long nowNs) {
    silent = false;
    node = newNode();
    node.start(nowNs);
  }

  /** This becomes of the next event that is not spoken for. */
  void fail(EventFault fault) {
    faults.merge(fault, 1, Integer::sum);
  }

  /** Every event goes out this much later, until another delay is set; 0 for at once. */
  void delay(long delayNs) {
    this.delayNs = delayNs;
  }

  /** Says of an event from now on that its state stands, or does not. */
  void misreport(EventId event, boolean stands) {
    misreported.put(event, stands);
  }

  /** Says the truth of an event again. */
  void reportTruly(EventId event) {
    misreported.remove(event);
  }

  /** Tells at once whether an event's state stands. */
  void tellState(EventId event) {
    if (stands(event)) {
      speak(event);
    } else if (isReady()) {
      node.tellProducer(event, Validity.INVALID, now.getAsLong());
    }
  }

  /** Whether it says that an event's state stands. */
  boolean stands(EventId event) {
    Boolean misreport = misreported.get(event);
    return misreport == null ? produced.get(event).getAsBoolean() : misreport;
  }

  NodeId id() {
    return id;
  }

  boolean isReady() {
    return !silent && node.ready();
  }

  /** The alias in use; 0 if there is none. */
  int alias() {
    return isReady() ? node.alias() : 0;
  }

  OptionalLong deadlineNs() {
    OptionalLong ofNode = silent ? OptionalLong.empty() : node.deadlineNs();
    OptionalLong ofHeartbeat =
        heartbeat.map(HeartbeatWatch::deadlineNs).orElse(OptionalLong.empty());
    return Deadlines.earlier(ofHeartbeat, withWhatIsLate(ofNode));
  }

  private OptionalLong withWhatIsLate(OptionalLong ofNode) {
    return late.isEmpty()
        ? ofNode
        : Deadlines.earlier(ofNode, OptionalLong.of(late.element().dueNs()));
  }

  void advance(long nowNs) {
    if (!silent) {
      node.advance(nowNs);
    }
    heartbeat.ifPresent(watch -> watch.advance(nowNs));
    while (!late.isEmpty() && late.element().dueNs() <= nowNs) {
      send(late.remove().event());
    }
  }

  @Override
  public void hear(CanFrame frame, long nowNs) {
    if (!silent) {
      node.receive(frame, nowNs);
    }
  }

  /** Tells that an event has happened, unless the board is made to tell something else. */
  void report(EventId event) {
    if (!misreported.containsKey(event)) {
      speak(event);
    }
  }

  /** Sends an event of any kind, also one that the board does not produce. */
  void speak(EventId event) {
    if (delayNs == 0) {
      send(event);
    } else {
      late.add(new Late(event, now.getAsLong() + delayNs));
    }
  }

  private void send(EventId event) {
    if (happens(EventFault.LOSES)) {
      return;
    }
    sendOnce(event);
    if (happens(EventFault.REPEATS)) {
      sendOnce(event);
    }
  }

  /** Whether the fault befalls this event. */
  private boolean happens(EventFault fault) {
    boolean happens = faults.getOrDefault(fault, 0) > 0;
    if (happens) {
      faults.merge(fault, -1, Integer::sum);
    }
    return happens;
  }

  /** While the board cannot speak, it keeps in mind what it has to say. */
  private void sendOnce(EventId event) {
    if (!isReady() || !node.report(event)) {
      unsaid.add(event);
    }
  }

  /** Tells what happened while the board could not speak, as far as it still holds. */
  @Override
  public void ready(long nowNs) {
    List<EventId> events = List.copyOf(unsaid);
    unsaid.clear();
    events.stream()
        .filter(event -> produced.containsKey(event) && stands(event))
        .forEach(this::sendOnce);
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
    return validity(() -> stands(event));
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
    if (consumption != null && !withheld(event) && !happens(EventFault.MISSES)) {
      consumption.act().accept(nowNs);
    }
  }

  private boolean withheld(EventId event) {
    return heartbeat.map(watch -> watch.withholds(event)).orElse(false);
  }

  @Override
  public void producerIdentified(EventId event, Validity validity, long nowNs) {}

  @Override
  public void consumerIdentified(EventId event, Validity validity, long nowNs) {}
}
