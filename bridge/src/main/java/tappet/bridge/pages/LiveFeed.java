package tappet.bridge.pages;

import io.netty.channel.Channel;
import io.netty.channel.EventLoop;
import io.netty.handler.codec.http.websocketx.CloseWebSocketFrame;
import io.netty.handler.codec.http.websocketx.TextWebSocketFrame;
import io.netty.handler.codec.http.websocketx.WebSocketCloseStatus;
import java.security.SecureRandom;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.LongAdder;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.view.News;
import tappet.bridge.view.Sight;
import tappet.bridge.view.SightJson;

/**
 * The stream of what changes. All pages get the same messages, made once; numbers without a gap let
 * a page that was away resume. While the box does not answer nothing is said, not even that the
 * daemon is there: nobody is to take what was for what is. On the event loop of the pages alone.
 */
final class LiveFeed {

  /** What changes within this goes out together. */
  static final long TICK_MS = 50;

  /** The railroad is looked at so often while no page wants to hear. */
  static final long IDLE_MS = 1_000;

  /** A page hears something at least so often. */
  static final long SILENCE_MAX_MS = 2_000;

  /** A box that has not let itself be looked at for longer than this is no longer seen. */
  static final long LOOK_MAX_MS = 5_000;

  /** So many pages at once. */
  static final int PAGES_MAX = 200;

  /** So many messages are kept for those who resume. */
  private static final int KEPT_MAX = 400;

  /** Who has so much still to be sent is cut off, and resumes when it can. */
  private static final long BEHIND_MAX_BYTES = 1 << 20;

  private static final Logger LOG = LoggerFactory.getLogger(LiveFeed.class);

  private record Kept(long seq, String text) {}

  private String run = Long.toHexString(new SecureRandom().nextLong());
  private final EventLoop loop;
  private final Office office;
  private final NewsStand news;
  private final Records records;
  private final BooleanSupplier boxAnswers;
  private final LongSupplier wallClockMs;
  private final LongSupplier clockNs;
  private final Set<Channel> pages = new LinkedHashSet<>();
  private final Map<Channel, Optional<Heard>> waiting = new LinkedHashMap<>();
  private final Deque<Kept> kept = new ArrayDeque<>();
  private final LongAdder cutOff = new LongAdder();
  private Optional<Sight> shown = Optional.empty();
  private long seq;
  private long saidNs;
  private long lookedNs;
  private boolean taking;

  /** Whether what was shown last is how things are now. */
  private boolean current;

  /**
   * @param records what has been seen and what has happened is taken down there
   * @param boxAnswers whether the box has answered in time
   * @param wallClockMs the time of day, in milliseconds since 1970, which messages carry
   * @param clockNs a clock that never runs back, in nanoseconds, by which is waited
   */
  LiveFeed(
      EventLoop loop,
      Office office,
      NewsStand news,
      Records records,
      BooleanSupplier boxAnswers,
      LongSupplier wallClockMs,
      LongSupplier clockNs) {
    this.loop = loop;
    this.office = office;
    this.news = news;
    this.records = records;
    this.boxAnswers = boxAnswers;
    this.wallClockMs = wallClockMs;
    this.clockNs = clockNs;
    this.saidNs = clockNs.getAsLong();
    this.lookedNs = saidNs - TimeUnit.MILLISECONDS.toNanos(IDLE_MS);
  }

  void start() {
    var unused = loop.scheduleWithFixedDelay(this::tick, TICK_MS, TICK_MS, TimeUnit.MILLISECONDS);
  }

  /** What does not change has changed: every page begins anew, as if the daemon had. */
  void beginAnew() {
    run = Long.toHexString(new SecureRandom().nextLong());
    kept.clear();
    shown = Optional.empty();
    current = false;
    news.touch();
  }

  /** How many pages were cut off because they did not keep up. */
  long cutOff() {
    return cutOff.sum();
  }

  int pages() {
    return pages.size() + waiting.size();
  }

  boolean full() {
    return pages() >= PAGES_MAX;
  }

  /**
   * A page wants to hear. It waits until there is something to be told that is so now.
   *
   * @param after the number of the last message that it has, and of which run; empty for a page
   *     that has none
   */
  void add(Channel page, Optional<Heard> after) {
    waiting.put(page, after);
    page.closeFuture().addListener(closed -> forget(page));
    if (current) {
      welcomeAll();
    }
  }

  private void forget(Channel page) {
    pages.remove(page);
    waiting.remove(page);
  }

  private void welcomeAll() {
    Map<Channel, Optional<Heard>> come = new LinkedHashMap<>(waiting);
    waiting.clear();
    come.forEach(this::welcome);
  }

  private void welcome(Channel page, Optional<Heard> after) {
    pages.add(page);
    Optional<List<Kept>> missed = after.flatMap(this::missedSince);
    if (missed.isPresent()) {
      missed.get().forEach(message -> send(page, message.text()));
      send(page, SightJson.alive(run, seq, wallClockMs.getAsLong()));
    } else {
      shown.ifPresent(
          sight -> send(page, SightJson.whole(run, seq, wallClockMs.getAsLong(), sight)));
    }
  }

  /** The last message that a page has heard, and of which run. */
  record Heard(String run, long seq) {}

  private Optional<List<Kept>> missedSince(Heard heard) {
    boolean known =
        heard.run().equals(run)
            && heard.seq() <= seq
            && (heard.seq() == seq
                || (!kept.isEmpty() && kept.peekFirst().seq() <= heard.seq() + 1));
    return known
        ? Optional.of(kept.stream().filter(message -> message.seq() > heard.seq()).toList())
        : Optional.empty();
  }

  private void tick() {
    if (!boxAnswers.getAsBoolean() || isLookOverdue()) {
      current = false;
    }
    if (!taking && isTimeToLook() && (!current || news.takeTouched())) {
      take();
    }
    if (current && hasPassed(SILENCE_MAX_MS, saidNs)) {
      sayToAll(SightJson.alive(run, seq, wallClockMs.getAsLong()));
    }
  }

  private boolean isLookOverdue() {
    return taking && hasPassed(LOOK_MAX_MS, lookedNs);
  }

  /** For the diary alone a look now and then will do, which spares the box. */
  private boolean isTimeToLook() {
    return pages() > 0 || hasPassed(IDLE_MS, lookedNs);
  }

  private boolean hasPassed(long spanMs, long sinceNs) {
    return clockNs.getAsLong() - sinceNs >= TimeUnit.MILLISECONDS.toNanos(spanMs);
  }

  private void take() {
    taking = true;
    lookedNs = clockNs.getAsLong();
    var unused =
        office.sight().whenComplete((sight, failure) -> loop.execute(() -> taken(sight, failure)));
  }

  private void taken(Sight sight, Throwable failure) {
    taking = false;
    current = failure == null && boxAnswers.getAsBoolean();
    if (!current) {
      LOG.debug("The railroad could not be looked at; it is tried again", failure);
      return;
    }
    records.diary().follow(sight, wallClockMs.getAsLong());
    shown.ifPresentOrElse(before -> show(before, sight), () -> showWhole(sight));
    welcomeAll();
  }

  private void showWhole(Sight sight) {
    shown = Optional.of(sight);
    sayToAll(SightJson.whole(run, seq, wallClockMs.getAsLong(), sight));
  }

  private void show(Sight before, Sight sight) {
    var changes = sight.since(before);
    List<News> told = news.take();
    records.news().add(told);
    if (!changes.isEmpty() || !told.isEmpty()) {
      seq++;
      shown = Optional.of(sight);
      String text = SightJson.changes(run, seq, wallClockMs.getAsLong(), changes, told);
      keep(new Kept(seq, text));
      sayToAll(text);
    }
  }

  private void keep(Kept message) {
    kept.addLast(message);
    if (kept.size() > KEPT_MAX) {
      kept.removeFirst();
    }
  }

  private void sayToAll(String text) {
    saidNs = clockNs.getAsLong();
    new ArrayList<>(pages).forEach(page -> send(page, text));
  }

  private void send(Channel page, String text) {
    if (page.unsafe().outboundBuffer() == null
        || page.unsafe().outboundBuffer().totalPendingWriteBytes() > BEHIND_MAX_BYTES) {
      cutOff.increment();
      var unused =
          page.writeAndFlush(new CloseWebSocketFrame(WebSocketCloseStatus.TRY_AGAIN_LATER));
      var unusedClosed = page.close();
    } else {
      var unused = page.writeAndFlush(new TextWebSocketFrame(text));
    }
  }
}
