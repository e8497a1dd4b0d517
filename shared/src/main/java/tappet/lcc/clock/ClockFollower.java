package tappet.lcc.clock;

import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Report;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

/**
 * A clock that follows the one of the layout (S-9.7.4.5 §6). Between what it hears it keeps the
 * time itself (§6.2). Its node consumes {@link #range}, produces {@link #produced} and whatever it
 * sets, hands it what it hears of the clock, and gives it the time.
 *
 * <p>It asks for the time when it starts and again until it knows, unless somebody else has just
 * asked (TN-9.7.4.5 §2.6.4).
 */
public final class ClockFollower {

  /** From a question to the next, if nobody answers: more than the 3 s of S-9.7.3 §3.7. */
  static final long ASK_AGAIN_NS = 10_000_000_000L;

  /** As long an answer to somebody else's question may be on its way (S-9.7.3 §3.7). */
  private static final long ANSWER_NS = 3_000_000_000L;

  private static final long NEVER = Long.MAX_VALUE;
  private static final LocalDateTime NO_DATE_YET = LocalDateTime.of(2000, 1, 1, 0, 0);
  private static final Rate REAL_TIME = new Rate(4);

  private final ClockId clock;
  private final ClockVoice voice;
  private Hands hands = new Hands(NO_DATE_YET, 0, REAL_TIME, false);
  private boolean timeKnown;
  private long askedNs = NEVER;
  private long askNs = NEVER;

  public ClockFollower(ClockId clock, ClockVoice voice) {
    this.clock = clock;
    this.voice = voice;
  }

  /** What the node consumes to hear of all times (§6.1). */
  public EventRange range() {
    return clock.range();
  }

  /** What the node announces as produced, as this asks for the time (S-9.7.3.1 §6). */
  public List<EventId> produced() {
    return List.of(clock.event(Order.QUERY));
  }

  /** The node may speak. */
  public void start(long nowNs) {
    askNs = timeKnown ? NEVER : nowNs;
    advance(nowNs);
  }

  /** What the layout's clock shows; empty until it has been heard. */
  public Optional<ClockReading> now(long nowNs) {
    return timeKnown ? Optional.of(hands.reading(nowNs)) : Optional.empty();
  }

  /** An event of the clock has been reported. */
  public void eventReported(EventId event, long nowNs) {
    clock.read(event).ifPresent(heard -> hearReport(heard, nowNs));
  }

  /** A producer has told that this is the clock's state (§6.3). */
  public void producerIdentifiedValid(EventId event, long nowNs) {
    clock.read(event).ifPresent(heard -> hearState(heard, nowNs));
  }

  /** Asks for the time if it has to. */
  public void advance(long nowNs) {
    if (askNs == NEVER || nowNs - askNs < 0) {
      return;
    }
    askNs = nowNs + ASK_AGAIN_NS;
    if (askedNs == NEVER || nowNs - askedNs >= ANSWER_NS) {
      voice.report(clock.event(Order.QUERY));
    }
  }

  /** When {@link #advance} is needed next. */
  public OptionalLong deadlineNs() {
    return askNs == NEVER ? OptionalLong.empty() : OptionalLong.of(askNs);
  }

  private void hearReport(ClockEvent event, long nowNs) {
    if (event == Order.QUERY) {
      askedNs = nowNs;
    } else if (event == Order.DATE_ROLLOVER) {
      hearMidnight(nowNs);
    } else if (event instanceof Report report && report.setting() instanceof Time time) {
      takeTime(time, nowNs);
    } else {
      hearState(event, nowNs);
    }
  }

  /** A minute under way is not begun again: the state tells which it is, not that it begins. */
  private void hearState(ClockEvent event, long nowNs) {
    if (event == Order.START || event == Order.STOP) {
      hands = hands.withRunning(event == Order.START, nowNs);
    } else if (event instanceof Report report) {
      takeState(report.setting(), nowNs);
    }
  }

  private void takeState(Setting setting, long nowNs) {
    if (setting instanceof Rate rate) {
      hands = hands.withRate(rate, nowNs);
    } else if (setting instanceof Year year) {
      hands = hands.withYear(year, nowNs);
    } else if (setting instanceof Date date) {
      hands = hands.withDate(date, nowNs);
    } else if (setting instanceof Time time && !(timeKnown && shows(time, nowNs))) {
      takeTime(time, nowNs);
    }
  }

  private boolean shows(Time time, long nowNs) {
    LocalTime now = hands.time(nowNs).toLocalTime();
    return now.getHour() == time.hour() && now.getMinute() == time.minute();
  }

  private void takeTime(Time time, long nowNs) {
    hands = timeKnown ? hands.withReportedTime(time, nowNs) : hands.withTime(time, nowNs);
    timeKnown = true;
    askNs = NEVER;
  }

  /** Who is a little late goes to midnight with the clock; who has passed it stays (§6.2). */
  private void hearMidnight(long nowNs) {
    LocalDateTime now = hands.time(nowNs);
    boolean late = hands.forward() == now.getHour() >= 12;
    if (timeKnown && hands.moving() && late) {
      LocalDateTime midnight = now.toLocalDate().atStartOfDay();
      hands = hands.withDateTime(hands.forward() ? midnight.plusDays(1) : midnight, nowNs);
    }
  }
}
