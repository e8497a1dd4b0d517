package tappet.lcc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;

/**
 * A peer that says its lines to one node and expects the node's, frame by frame, on virtual time.
 * Every line must be expected: a script ends with {@link #expectSilence}.
 */
public final class Dialogue implements LccNode.Application {

  public final LccNode node;
  final List<String> heard = new ArrayList<>();
  final Map<EventId, Validity> states = new TreeMap<>();

  private final List<EventId> produced;
  private final List<EventId> consumed;
  private final List<EventRange> producedRanges = new ArrayList<>();
  private final List<EventRange> consumedRanges = new ArrayList<>();
  private final List<DatagramService> services = new ArrayList<>();
  private Optional<Identity> identity = Optional.empty();
  private final Deque<String> said = new ArrayDeque<>();
  private Runnable onReady = () -> {};
  private Runnable onReport = () -> {};
  private long nowNs;

  public Dialogue(String nodeId, List<String> produced, List<String> consumed) {
    this.produced = produced.stream().map(EventId::of).toList();
    this.consumed = consumed.stream().map(EventId::of).toList();
    this.node = new LccNode(NodeId.of(nodeId), this, frame -> said.add(FrameText.encode(frame)));
  }

  Dialogue(String nodeId, AliasSeed seed) {
    this.produced = List.of();
    this.consumed = List.of();
    this.node =
        new LccNode(NodeId.of(nodeId), this, frame -> said.add(FrameText.encode(frame)), seed);
  }

  public Dialogue start() {
    node.start(nowNs);
    return this;
  }

  /** The node speaks this in datagrams. */
  public Dialogue serve(DatagramService service) {
    services.add(service);
    return this;
  }

  /** The node tells this of itself. */
  public Dialogue identifyAs(Identity told) {
    identity = Optional.of(told);
    return this;
  }

  public Dialogue produceAll(EventRange range) {
    producedRanges.add(range);
    return this;
  }

  public Dialogue consumeAll(EventRange range) {
    consumedRanges.add(range);
    return this;
  }

  public long nowNs() {
    return nowNs;
  }

  /** All that the node has said and that has not been expected yet. */
  public List<String> takeSaid() {
    List<String> texts = List.copyOf(said);
    said.clear();
    return texts;
  }

  Dialogue onReady(Runnable action) {
    onReady = action;
    return this;
  }

  Dialogue onReport(Runnable action) {
    onReport = action;
    return this;
  }

  /** The peer says this. */
  public Dialogue send(String... texts) {
    for (String text : texts) {
      node.receive(Vectors.frame(text), nowNs);
    }
    return this;
  }

  /** The node has said this next. */
  public Dialogue expect(String... texts) {
    for (String text : texts) {
      assertEquals(text, said.isEmpty() ? "silence" : said.remove());
    }
    return this;
  }

  public Dialogue expectSilence() {
    assertEquals(List.of(), List.copyOf(said));
    return this;
  }

  public Dialogue expectHeard(String... reports) {
    assertEquals(List.of(reports), heard);
    heard.clear();
    return this;
  }

  /** Lets time pass without calling the node more often than it asks for. */
  public Dialogue pass(long milliseconds) {
    long untilNs = nowNs + TimeUnit.MILLISECONDS.toNanos(milliseconds);
    while (node.deadlineNs().isPresent() && node.deadlineNs().getAsLong() <= untilNs) {
      nowNs = node.deadlineNs().getAsLong();
      node.advance(nowNs);
    }
    nowNs = untilNs;
    node.advance(nowNs);
    return this;
  }

  /** Lets the node have its alias and forgets what it has said and heard until then. */
  public Dialogue upAndReady() {
    start().pass(1000);
    assertTrue(node.ready());
    said.clear();
    heard.clear();
    return this;
  }

  @Override
  public List<EventId> produced() {
    return produced;
  }

  @Override
  public List<EventId> consumed() {
    return consumed;
  }

  @Override
  public List<EventRange> producedRanges() {
    return producedRanges;
  }

  @Override
  public List<EventRange> consumedRanges() {
    return consumedRanges;
  }

  @Override
  public List<DatagramService> datagramServices() {
    return services;
  }

  @Override
  public Optional<Identity> identity() {
    return identity;
  }

  @Override
  public void identityTold(int alias, Optional<Identity> told, long nowNs) {
    heard.add("identity of %03X %s".formatted(alias, told.map(Identity::userName).orElse("none")));
  }

  @Override
  public Validity producerState(EventId event) {
    return states.getOrDefault(event, Validity.UNKNOWN);
  }

  @Override
  public Validity consumerState(EventId event) {
    return states.getOrDefault(event, Validity.UNKNOWN);
  }

  @Override
  public void ready(long nowNs) {
    heard.add("ready");
    onReady.run();
  }

  @Override
  public void eventReported(EventId event, long nowNs) {
    heard.add("report " + event);
    onReport.run();
  }

  @Override
  public void producerIdentified(EventId event, Validity validity, long nowNs) {
    heard.add("producer " + event + " " + validity);
  }

  @Override
  public void consumerIdentified(EventId event, Validity validity, long nowNs) {
    heard.add("consumer " + event + " " + validity);
  }
}
