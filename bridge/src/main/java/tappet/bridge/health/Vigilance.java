package tappet.bridge.health;

import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.BoxThread;

/**
 * Asks the box again and again whether it still works, as a locomotive asks its engineer. A box
 * that does not answer is logged once, with what its thread is at, and whoever waits to hear that
 * all is well waits in vain. Not on the box's thread.
 */
public final class Vigilance {

  static final Duration EVERY = Duration.ofSeconds(1);

  /** Ten times longer than the box takes for all that a full bus can bring in a second. */
  static final Duration PATIENCE = Duration.ofSeconds(5);

  private static final Logger LOG = LoggerFactory.getLogger(Vigilance.class);

  private final Supplier<CompletableFuture<Pulse>> ask;
  private final Supplier<StackTraceElement[]> stack;
  private final LongSupplier clockNs;
  private final Runnable whileWell;

  private CompletableFuture<?> asked = CompletableFuture.completedFuture(null);
  private volatile Optional<Heard> heard = Optional.empty();
  private final long begunNs;
  private boolean stalled;

  /** What the box said last. */
  record Heard(Pulse pulse, long atNs) {}

  /**
   * @param stack what the box's thread is at
   * @param clockNs a clock that never runs back, in nanoseconds
   * @param whileWell is run at each look at which the box has answered in time
   */
  Vigilance(
      Supplier<CompletableFuture<Pulse>> ask,
      Supplier<StackTraceElement[]> stack,
      LongSupplier clockNs,
      Runnable whileWell) {
    this.ask = ask;
    this.stack = stack;
    this.clockNs = clockNs;
    this.whileWell = whileWell;
    this.begunNs = clockNs.getAsLong();
  }

  /**
   * Watches a box from now on.
   *
   * @param where the looks are taken; ends with it
   * @param whileWell is run at each look at which the box has answered in time
   */
  public static Vigilance over(BoxThread box, ScheduledExecutorService where, Runnable whileWell) {
    Vigilance vigilance =
        new Vigilance(
            () -> box.ask((signalBox, nowNs) -> Pulse.of(signalBox)),
            box::stack,
            System::nanoTime,
            whileWell);
    var unused =
        where.scheduleWithFixedDelay(vigilance::look, 0, EVERY.toMillis(), TimeUnit.MILLISECONDS);
    return vigilance;
  }

  /** What the box said last; empty before it has said anything. */
  Optional<Heard> heard() {
    return heard;
  }

  long nowNs() {
    return clockNs.getAsLong();
  }

  /** How long the box has been silent; from the beginning where it has said nothing yet. */
  Duration silence() {
    return Duration.ofNanos(nowNs() - heard.map(Heard::atNs).orElse(begunNs));
  }

  /** Whether the box has been silent for too long; from any thread. */
  public boolean isStalled() {
    return silence().compareTo(PATIENCE) >= 0;
  }

  /** One question is on its way at a time: a box that is behind is not put further behind. */
  void look() {
    if (asked.isDone()) {
      asked = ask.get().thenAccept(this::answered);
    }
    if (isStalled()) {
      tellStall();
    } else {
      tellRecovery();
      whileWell.run();
    }
  }

  /** On the box's thread. */
  private void answered(Pulse pulse) {
    heard = Optional.of(new Heard(pulse, nowNs()));
  }

  private void tellStall() {
    if (!stalled) {
      stalled = true;
      LOG.error(
          "The box has not answered for {} s. Its thread is at:{}",
          silence().toSeconds(),
          words(stack.get()));
    }
  }

  private void tellRecovery() {
    if (stalled) {
      stalled = false;
      LOG.warn("The box answers again");
    }
  }

  private static String words(StackTraceElement[] at) {
    StringBuilder words = new StringBuilder();
    for (StackTraceElement element : at) {
      words.append("\n    ").append(element);
    }
    return words.toString();
  }
}
