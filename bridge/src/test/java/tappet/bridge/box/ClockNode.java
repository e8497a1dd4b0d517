package tappet.bridge.box;

import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.stream.Stream;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.LccNode;
import tappet.lcc.NodeId;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent;
import tappet.lcc.clock.ClockFollower;
import tappet.lcc.clock.ClockGenerator;
import tappet.lcc.clock.ClockId;
import tappet.lcc.clock.ClockReading;
import tappet.lcc.clock.ClockVoice;

/** Another node on the bus, with a clock of its own that follows the fast clock or generates it. */
final class ClockNode {

  static final ClockId CLOCK = ClockId.DEFAULT_FAST;

  private final LccNode node;
  private final Optional<ClockGenerator> generator;
  private final ClockFollower follower;
  private long nowNs;

  private ClockNode(NodeId id, Optional<ClockReading> beginning, Consumer<CanFrame> toBus) {
    this.node = new LccNode(id, new Application(), toBus);
    this.generator = beginning.map(reading -> new ClockGenerator(CLOCK, reading, new Voice()));
    this.follower = new ClockFollower(CLOCK, new Voice());
  }

  static ClockNode follower(NodeId id, Consumer<CanFrame> toBus) {
    return new ClockNode(id, Optional.empty(), toBus);
  }

  static ClockNode generator(NodeId id, ClockReading beginning, Consumer<CanFrame> toBus) {
    return new ClockNode(id, Optional.of(beginning), toBus);
  }

  void start(long startNs) {
    nowNs = startNs;
    node.start(nowNs);
  }

  void receive(CanFrame frame, long atNs) {
    nowNs = atNs;
    node.receive(frame, nowNs);
  }

  void advance(long toNs) {
    nowNs = toNs;
    node.advance(nowNs);
    if (node.ready()) {
      generator.ifPresent(clock -> clock.advance(nowNs));
      follower.advance(nowNs);
    }
  }

  OptionalLong deadlineNs() {
    return Stream.of(
            node.deadlineNs(),
            generator.map(ClockGenerator::deadlineNs).orElse(OptionalLong.empty()),
            follower.deadlineNs())
        .flatMapToLong(OptionalLong::stream)
        .min();
  }

  void report(ClockEvent event) {
    node.report(CLOCK.event(event));
  }

  /** What it shows; empty while a follower has not heard the time. */
  Optional<ClockReading> reading() {
    return generator.map(clock -> clock.now(nowNs)).or(() -> follower.now(nowNs));
  }

  LocalDateTime time() {
    return reading().orElseThrow().time();
  }

  private final class Voice implements ClockVoice {
    @Override
    public void report(EventId event) {
      node.report(event);
    }

    @Override
    public void identify(EventId event) {
      node.tellProducer(event, Validity.VALID, nowNs);
    }
  }

  private final class Application implements LccNode.Application {
    @Override
    public List<EventId> produced() {
      return follower.produced();
    }

    @Override
    public List<EventId> consumed() {
      return List.of();
    }

    @Override
    public List<EventRange> producedRanges() {
      return generator.map(clock -> List.of(clock.range())).orElse(List.of());
    }

    @Override
    public List<EventRange> consumedRanges() {
      return List.of(CLOCK.range());
    }

    @Override
    public Validity producerState(EventId event) {
      return generator.map(clock -> clock.producerState(event, nowNs)).orElse(Validity.UNKNOWN);
    }

    @Override
    public Validity consumerState(EventId event) {
      return Validity.UNKNOWN;
    }

    @Override
    public void ready(long readyNs) {
      generator.ifPresentOrElse(clock -> clock.start(readyNs), () -> follower.start(readyNs));
    }

    @Override
    public void eventReported(EventId event, long atNs) {
      generator.ifPresentOrElse(
          clock -> clock.eventReported(event, atNs), () -> follower.eventReported(event, atNs));
    }

    @Override
    public void producerIdentified(EventId event, Validity validity, long atNs) {
      if (validity == Validity.VALID && generator.isEmpty()) {
        follower.producerIdentifiedValid(event, atNs);
      }
    }

    @Override
    public void consumerIdentified(EventId event, Validity validity, long atNs) {}
  }
}
