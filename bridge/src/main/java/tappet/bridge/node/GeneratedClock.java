package tappet.bridge.node;

import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.stream.Stream;
import tappet.interlocking.Answer;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockGenerator;
import tappet.lcc.clock.ClockReading;
import tappet.network.Explanation;
import tappet.sentence.Command;

/** The clock that the daemon's node generates; anybody on the bus may set it (S-9.7.4.5 §6.5). */
final class GeneratedClock implements LayoutClock {

  /**
   * So long another generator is remembered. It may be silent longer (§6.2), but then its next word
   * raises the alarm again.
   */
  static final long RIVAL_NS = 180_000_000_000L;

  private final FastClock clock;
  private final Surroundings surroundings;
  private final ClockGenerator generator;
  private final ClockFace face;
  private boolean started;

  GeneratedClock(ClockPlan.Run plan, Surroundings surroundings) {
    this.clock = plan.clock();
    this.surroundings = surroundings;
    this.generator = new ClockGenerator(clock.id(), beginning(plan), surroundings);
    this.face = new ClockFace(clock.called(), surroundings);
  }

  /** Whoever cares for the date sets it by an event; the first one is as good as any other. */
  private static ClockReading beginning(ClockPlan.Run plan) {
    LocalDateTime time = LocalDateTime.of(2000, 1, 1, plan.time().hour(), plan.time().minute());
    return new ClockReading(time, plan.rate(), true);
  }

  @Override
  public List<EventRange> producedRanges() {
    return List.of(clock.range());
  }

  @Override
  public List<EventRange> consumedRanges() {
    return List.of(clock.range());
  }

  @Override
  public Validity producerState(EventId event, long nowNs) {
    return generator.producerState(event, nowNs);
  }

  @Override
  public void speak(long nowNs) {
    started = true;
    generator.start(nowNs);
    show(nowNs);
  }

  @Override
  public void hear(CanFrame frame, String connection, long nowNs) {
    if (!started || !clock.concerns(frame)) {
      return;
    }
    Message message = Messages.decode(frame);
    if (message instanceof Message.EventReport report) {
      generator.eventReported(report.event(), nowNs);
      show(nowNs);
    } else if (message instanceof Message.ConsumerIdentified identified) {
      generator.consumerIdentified(identified.event());
    }
    if (GeneratorWord.isOne(message, clock)) {
      surroundings.alarmFor(rival(message.source()), RIVAL_NS, nowNs);
    }
  }

  private String rival(int alias) {
    return "%s generates %s, as Tappet does: let one of them follow the other"
        .formatted(surroundings.nameOf(alias), clock.called());
  }

  @Override
  public void advance(long nowNs) {
    generator.advance(nowNs);
    if (face.isDue(nowNs)) {
      show(nowNs);
    }
  }

  private void show(long nowNs) {
    face.show(Optional.of(generator.now(nowNs)), nowNs);
  }

  @Override
  public OptionalLong deadlineNs() {
    return Stream.of(generator.deadlineNs(), face.deadlineNs())
        .flatMapToLong(OptionalLong::stream)
        .min();
  }

  @Override
  public Answer tell(Command.OfClock order, long nowNs) {
    if (order instanceof Command.SetClock set) {
      generator.set(set.setting(), nowNs);
    } else {
      run(order instanceof Command.StartClock, nowNs);
    }
    show(nowNs);
    return new Answer(true, why(nowNs));
  }

  /** Those who follow the clock are told at once, not with the sync sequence three seconds on. */
  private void run(boolean running, long nowNs) {
    generator.run(running, nowNs);
    ClockEvent event = running ? Order.START : Order.STOP;
    surroundings.report(clock.event(event));
  }

  @Override
  public Optional<ClockReading> reading() {
    return face.shown();
  }

  @Override
  public Explanation why(long nowNs) {
    return new Explanation(face.words(), List.of(Explanation.fact("Tappet generates it")));
  }
}
