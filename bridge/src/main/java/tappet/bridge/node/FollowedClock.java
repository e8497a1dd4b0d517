package tappet.bridge.node;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.stream.LongStream;
import tappet.interlocking.Answer;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockFollower;
import tappet.lcc.clock.ClockReading;
import tappet.network.Explanation;
import tappet.sentence.Command;

/**
 * The clock that another node generates. Its time is known from the first word of that node, until
 * the way to it is lost or it has left a question unanswered. What people ask of the clock is asked
 * of its generator, which may refuse (S-9.7.4.5 §6.5).
 */
final class FollowedClock implements LayoutClock {

  /** A generator that has been silent so long is asked: it usually speaks every minute (§6.2). */
  static final long ASK_AFTER_NS = 120_000_000_000L;

  /** So long it may take to answer, and be heard at all at first. */
  static final long ANSWER_NS = 10_000_000_000L;

  private static final long NEVER = Long.MAX_VALUE;

  private final FastClock clock;
  private final Surroundings surroundings;
  private final ClockFace face;
  private ClockFollower follower;
  private String connection = "";
  private String generator = "";
  private boolean started;
  private long askNs = NEVER;
  private long lostNs = NEVER;

  FollowedClock(FastClock clock, Surroundings surroundings) {
    this.clock = clock;
    this.surroundings = surroundings;
    this.face = new ClockFace(clock.called(), surroundings);
    this.follower = new ClockFollower(clock.id(), surroundings);
  }

  @Override
  public List<EventRange> consumedRanges() {
    return List.of(clock.range());
  }

  @Override
  public List<EventId> produced() {
    return follower.produced();
  }

  @Override
  public void speak(long nowNs) {
    if (!started) {
      lostNs = nowNs + ANSWER_NS;
    }
    started = true;
    follower.start(nowNs);
  }

  @Override
  public void hear(CanFrame frame, String from, long nowNs) {
    if (!clock.concerns(frame)) {
      return;
    }
    Message message = Messages.decode(frame);
    if (message instanceof Message.EventReport report) {
      follower.eventReported(report.event(), nowNs);
    } else if (message instanceof Message.ProducerIdentified identified
        && identified.validity() == Validity.VALID) {
      follower.producerIdentifiedValid(identified.event(), nowNs);
    }
    if (GeneratorWord.isOne(message, clock)) {
      noteGenerator(message.source(), from, nowNs);
    }
    show(nowNs);
  }

  private void noteGenerator(int alias, String from, long nowNs) {
    generator = surroundings.nameOf(alias);
    connection = from;
    if (isKnown(nowNs)) {
      askNs = nowNs + ASK_AFTER_NS;
      lostNs = askNs + ANSWER_NS;
      surroundings.alarmOver(notHeard());
    }
  }

  @Override
  public void lose(String lost, long nowNs) {
    if (lost.equals(connection)) {
      loseAll(nowNs);
    }
  }

  /** Asks anew, and has time for that. */
  @Override
  public void loseAll(long nowNs) {
    forget(nowNs);
    lostNs = nowNs + ANSWER_NS;
  }

  private void forget(long nowNs) {
    connection = "";
    generator = "";
    askNs = NEVER;
    lostNs = NEVER;
    follower = new ClockFollower(clock.id(), surroundings);
    if (started) {
      follower.start(nowNs);
    }
    show(nowNs);
  }

  @Override
  public void advance(long nowNs) {
    if (nowNs >= lostNs) {
      forget(nowNs);
      surroundings.alarm(notHeard());
    }
    if (nowNs >= askNs) {
      askNs = NEVER;
      surroundings.report(clock.event(Order.QUERY));
    }
    follower.advance(nowNs);
    if (face.isDue(nowNs)) {
      show(nowNs);
    }
  }

  private String notHeard() {
    return clock.called() + " is not heard: its time is unknown";
  }

  private boolean isKnown(long nowNs) {
    return follower.now(nowNs).isPresent();
  }

  private void show(long nowNs) {
    face.show(follower.now(nowNs), nowNs);
  }

  @Override
  public OptionalLong deadlineNs() {
    long first =
        LongStream.of(
                askNs, lostNs, follower.deadlineNs().orElse(NEVER), face.deadlineNs().orElse(NEVER))
            .min()
            .orElseThrow();
    return first == NEVER ? OptionalLong.empty() : OptionalLong.of(first);
  }

  /** Followers take start and stop at once, and everything else from the generator. */
  @Override
  public Answer tell(Command.OfClock order, long nowNs) {
    if (!isKnown(nowNs)) {
      return new Answer(false, why(nowNs));
    }
    if (!surroundings.ready()) {
      return new Answer(false, Explanation.fact("the daemon may not speak on the bus yet"));
    }
    EventId event = clock.event(event(order));
    surroundings.report(event);
    follower.eventReported(event, nowNs);
    show(nowNs);
    return new Answer(
        true,
        Explanation.fact("%s was asked to: it generates %s".formatted(generator, clock.called())));
  }

  private static ClockEvent event(Command.OfClock order) {
    if (order instanceof Command.SetClock set) {
      return new ClockEvent.Set(set.setting());
    }
    return order instanceof Command.StartClock ? Order.START : Order.STOP;
  }

  @Override
  public Optional<ClockReading> reading() {
    return face.shown();
  }

  @Override
  public Explanation why(long nowNs) {
    String who =
        isKnown(nowNs)
            ? generator + " generates it"
            : "no node that generates it has been heard; is one on the bus and switched on?";
    return new Explanation(face.words(), List.of(Explanation.fact(who)));
  }
}
