package tappet.lcc.clock;

import java.time.LocalDateTime;
import java.time.LocalTime;
import java.util.BitSet;
import java.util.List;
import java.util.OptionalLong;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Report;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

/**
 * The clock of a layout, as the node that generates it (S-9.7.4.5 §6). Its node produces and
 * consumes {@link #range}, hands it what it hears of that, and gives it the time.
 *
 * <pre>
 *   start, query                    the sync sequence, then a report of the next minute
 *   set                             takes effect; report of what became of it; sync 3 s after the last
 *   start or stop                   takes effect; sync 3 s after the last
 *   a minute comes                  reported if somebody waits for just that one, or a real minute
 *                                   has passed since the last report
 *   midnight comes, either way      date rollover; 3 s later reports of year and date
 * </pre>
 *
 * <p>A rate that is not supported becomes the nearest one that is. Rate zero stops the clock and
 * leaves its rate: start and stop are what the standard prefers for that (TN-9.7.4.5 §2.4.4).
 */
public final class ClockGenerator {

  /** From the last change to the sync sequence (§6.5), and from midnight to the date (§6.2). */
  static final long SETTLE_NS = 3_000_000_000L;

  /** Reports of the time that nobody waits for are this far apart (§6.2). */
  static final long REPORT_APART_NS = 60_000_000_000L;

  /** Queries that come within this time share one answer (TN-9.7.4.5 §2.6.4). */
  static final long QUERY_NS = 100_000_000L;

  private static final long NEVER = Long.MAX_VALUE;
  private static final int MINUTES_OF_DAY = 24 * 60;

  private final ClockId clock;
  private final int slowest;
  private final int fastest;
  private final ClockVoice voice;
  private final BitSet waitedFor = new BitSet(MINUTES_OF_DAY);

  private Hands hands;
  private long minuteNs = NEVER;
  private LocalDateTime minute;
  private long syncNs = NEVER;
  private long answerNs = NEVER;
  private long dateNs = NEVER;
  private boolean reportNext;
  private boolean reported;
  private long reportedNs;
  private boolean started;

  /** A clock that supports every rate of the standard. */
  public ClockGenerator(ClockId clock, ClockReading reading, ClockVoice voice) {
    this(clock, reading, new Rate(Rate.QUARTERS_MIN), new Rate(Rate.QUARTERS_MAX), voice);
  }

  /**
   * @param reading what the clock shows at {@link #start}
   * @param slowest the lowest rate supported; below zero, the fastest backwards
   * @param fastest the highest rate supported, at least 1 quarter
   */
  public ClockGenerator(
      ClockId clock, ClockReading reading, Rate slowest, Rate fastest, ClockVoice voice) {
    if (slowest.quarters() > fastest.quarters() || fastest.quarters() < 1) {
      throw new IllegalArgumentException(
          "rates of %d to %d quarters, expected some above zero"
              .formatted(slowest.quarters(), fastest.quarters()));
    }
    this.clock = clock;
    this.slowest = slowest.quarters();
    this.fastest = fastest.quarters();
    this.voice = voice;
    this.hands = Hands.of(reading, 0);
    this.minute = hands.origin();
  }

  /** What the node produces and consumes (§6.1). */
  public EventRange range() {
    return clock.range();
  }

  /** The node has announced itself: for the first time, or again. The clock goes on, or begins. */
  public void start(long nowNs) {
    if (!started) {
      started = true;
      hands = new Hands(hands.origin(), nowNs, hands.rate(), hands.running());
      aim(nowNs);
    }
    synchronize(nowNs);
  }

  /** What the clock shows. */
  public ClockReading now(long nowNs) {
    return started ? hands.reading(nowNs) : hands.reading(hands.originNs());
  }

  /** An event of the clock has been reported, by whomever. */
  public void eventReported(EventId event, long nowNs) {
    clock.read(event).filter(ClockGenerator::concerns).ifPresent(heard -> hear(heard, nowNs));
  }

  /** Somebody waits for an event: if it is a minute, it is reported whenever it comes (§6.2). */
  public void consumerIdentified(EventId event) {
    clock
        .read(event)
        .filter(heard -> heard instanceof Report report && report.setting() instanceof Time)
        .ifPresent(heard -> waitedFor.set(minuteOfDay(heard.code() >>> 8, heard.code() & 0xFF)));
  }

  /** Whether an event is what the clock shows now; unknown for what is no state (§6.3). */
  public Validity producerState(EventId event, long nowNs) {
    return clock
        .read(event)
        .filter(asked -> asked instanceof Report || isState(asked))
        .map(asked -> state(asked, nowNs))
        .orElse(Validity.UNKNOWN);
  }

  /** Changes the clock as if by an event, from the owner's side (§6.5). */
  public void set(Setting setting, long nowNs) {
    advance(nowNs);
    take(setting, nowNs);
  }

  /** Starts or stops the clock, from the owner's side (§6.5). */
  public void run(boolean running, long nowNs) {
    advance(nowNs);
    takeRunning(running, nowNs);
  }

  /** Does what is due by now. */
  public void advance(long nowNs) {
    while (isDue(minuteNs, nowNs)) {
      passMinute();
    }
    if (isDue(dateNs, nowNs)) {
      dateNs = NEVER;
      report(year(nowNs));
      report(date(nowNs));
    }
    if (isDue(answerNs, nowNs) || isDue(syncNs, nowNs)) {
      syncNs = isDue(syncNs, nowNs) ? NEVER : syncNs;
      synchronize(nowNs);
    }
  }

  private static boolean isDue(long dueNs, long nowNs) {
    return dueNs != NEVER && nowNs - dueNs >= 0;
  }

  /** When {@link #advance} is needed next; empty while the clock stands and nothing is due. */
  public OptionalLong deadlineNs() {
    long first = Math.min(Math.min(minuteNs, dateNs), Math.min(answerNs, syncNs));
    return first == NEVER ? OptionalLong.empty() : OptionalLong.of(first);
  }

  /** What a generator reports itself it need not hear. */
  private static boolean concerns(ClockEvent event) {
    return !(event instanceof Report) && event != Order.DATE_ROLLOVER;
  }

  private void hear(ClockEvent event, long nowNs) {
    advance(nowNs);
    if (event instanceof ClockEvent.Set set) {
      take(set.setting(), nowNs);
    } else if (event == Order.QUERY) {
      answerNs = Math.min(answerNs, nowNs + QUERY_NS);
    } else if (event == Order.START || event == Order.STOP) {
      takeRunning(event == Order.START, nowNs);
    }
  }

  private void take(Setting setting, long nowNs) {
    if (setting instanceof Time time) {
      hands = hands.withTime(time, nowNs);
      report(time(nowNs));
      noteReport(nowNs);
    } else if (setting instanceof Date date) {
      hands = hands.withDate(date, nowNs);
      report(date(nowNs));
    } else if (setting instanceof Year year) {
      hands = hands.withYear(year, nowNs);
      report(year(nowNs));
    } else if (setting instanceof Rate rate) {
      takeRate(rate, nowNs);
      report(hands.rate());
    }
    changed(nowNs);
  }

  private void takeRate(Rate rate, long nowNs) {
    hands =
        rate.quarters() == 0
            ? hands.withRunning(false, nowNs)
            : hands.withRate(nearest(rate), nowNs);
  }

  /** The nearest supported rate; zero is none. */
  private Rate nearest(Rate rate) {
    int quarters = Math.max(slowest, Math.min(fastest, rate.quarters()));
    return new Rate(quarters == 0 ? 1 : quarters);
  }

  private void takeRunning(boolean running, long nowNs) {
    hands = hands.withRunning(running, nowNs);
    changed(nowNs);
  }

  private void changed(long nowNs) {
    syncNs = nowNs + SETTLE_NS;
    aim(nowNs);
  }

  /** The sync sequence (§6.3); its last item is the next minute, when that comes. */
  private void synchronize(long nowNs) {
    answerNs = NEVER;
    identify(hands.running() ? Order.START : Order.STOP);
    List.of(hands.rate(), year(nowNs), date(nowNs), time(nowNs))
        .forEach(setting -> identify(new Report(setting)));
    reportNext = true;
  }

  private void aim(long nowNs) {
    hands = hands.at(nowNs);
    minuteNs = hands.moving() ? nowNs + hands.untilNextMinuteNs(nowNs) : NEVER;
    minute = hands.moving() ? hands.nextMinute(nowNs) : minute;
  }

  /** The hands are put exactly on the minute, so that no rounding adds up. */
  private void passMinute() {
    long atNs = minuteNs;
    LocalTime time = minute.toLocalTime();
    hands = hands.withDateTime(minute, atNs);
    aim(atNs);
    if (time.equals(LocalTime.MIDNIGHT)) {
      voice.report(clock.event(Order.DATE_ROLLOVER));
      dateNs = atNs + SETTLE_NS;
    }
    if (isToReport(time, atNs)) {
      report(new Time(time.getHour(), time.getMinute()));
      noteReport(atNs);
      reportNext = false;
    }
  }

  private boolean isToReport(LocalTime time, long nowNs) {
    return reportNext
        || !reported
        || nowNs - reportedNs >= REPORT_APART_NS
        || waitedFor.get(minuteOfDay(time.getHour(), time.getMinute()));
  }

  private void noteReport(long nowNs) {
    reported = true;
    reportedNs = nowNs;
  }

  private static int minuteOfDay(int hour, int minute) {
    return 60 * hour + minute;
  }

  private static boolean isState(ClockEvent event) {
    return event == Order.START || event == Order.STOP;
  }

  private Validity state(ClockEvent asked, long nowNs) {
    boolean holds =
        asked instanceof Report report
            ? List.of(hands.rate(), year(nowNs), date(nowNs), time(nowNs))
                .contains(report.setting())
            : (asked == Order.START) == hands.running();
    return holds ? Validity.VALID : Validity.INVALID;
  }

  private Time time(long nowNs) {
    LocalDateTime now = hands.time(nowNs);
    return new Time(now.getHour(), now.getMinute());
  }

  private Date date(long nowNs) {
    LocalDateTime now = hands.time(nowNs);
    return new Date(now.getMonthValue(), now.getDayOfMonth());
  }

  private Year year(long nowNs) {
    return new Year(hands.time(nowNs).getYear());
  }

  private void report(Setting setting) {
    voice.report(clock.event(new Report(setting)));
  }

  private void identify(ClockEvent event) {
    voice.identify(clock.event(event));
  }
}
