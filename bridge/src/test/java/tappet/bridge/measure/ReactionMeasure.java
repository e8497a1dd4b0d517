package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLongArray;
import java.util.regex.Pattern;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.Message;
import tappet.lcc.Validity;

/**
 * Measures how long the daemon takes from the text frame that a section has become occupied to the
 * frame that puts its signal to Stop, both at the socket of a TCP client.
 *
 * <p>{@value #RATE} events a second are offered, evenly and whatever the daemon does; every tenth
 * drops a signal. Latency counts from when an event should have been sent. A dispatcher asks for
 * each route again before its turn comes anew. The baseline is the same line to a program that
 * sends back what it gets.
 */
final class ReactionMeasure {

  static final int RATE = 900;

  private static final int SIGNALS = 90;
  private static final int DROP_EVERY = 10;
  private static final int RESTORE_AT = 5;
  private static final long LINE_AGAIN_MS = 2L * SignalsInARow.LOSS_OF_SHUNT_MS;
  private static final double GOAL_P99_US = 1_000;
  private static final int LINING_PATIENCE_S = 30;
  private static final int BASELINE_ALIAS = 0x111;

  private final PrintStream out;
  private final int warmUpS;
  private final int measureS;

  ReactionMeasure(PrintStream out, int warmUpS, int measureS) {
    this.out = out;
    this.warmUpS = warmUpS;
    this.measureS = measureS;
  }

  /** Starts the daemon with these settings. */
  interface Starter {
    Program start(Path settings) throws IOException;
  }

  void measure(Path folder, Starter daemon) throws IOException, InterruptedException {
    out.printf(
        "reaction: text frame in to signal frame out at a TCP client, %d events/s for %d s%n",
        RATE, measureS);
    Latencies baseline = baseline();
    out.printf("  echo    %s%n", baseline);
    SignalsInARow railroad = new SignalsInARow(SIGNALS);
    try (Program program = daemon.start(Settings.scripted(folder, railroad))) {
      Run run = new Run(railroad, program);
      run.play();
      tellIdleShare(run);
      out.printf("  tappet  %s%n", run.latencies);
      out.printf(
          "  ratio of p50 %.1f, of p99 %.1f; goal: p99 under %,.0f µs%n",
          run.latencies.us(50) / baseline.us(50),
          run.latencies.us(99) / baseline.us(99),
          GOAL_P99_US);
      out.printf(
          "  check value: %d drops, %d unanswered, %d skipped since their signal was at stop,"
              + " %d without a reason%n",
          run.latencies.count(), run.unanswered(), run.skipped.get(), run.unreasoned.get());
      out.printf("  logged besides: %s%n", program.complaints());
    }
  }

  /** {@value #RATE} events a second are about all that a bus of 125 kbit/s can carry. */
  private void tellIdleShare(Run run) {
    double busy = run.busy.toNanos() / 1e9 / measureS;
    out.printf("  the daemon left %.1f %% of one core idle meanwhile%n", 100 * (1 - busy));
  }

  /** The reaction of a daemon that runs on {@link Settings#scripted} settings for this railroad. */
  Latencies play(SignalsInARow railroad, Program program) throws IOException, InterruptedException {
    Run run = new Run(railroad, program);
    run.play();
    return run.latencies;
  }

  static SignalsInARow railroad() {
    return new SignalsInARow(SIGNALS);
  }

  private Latencies baseline() throws IOException {
    Latencies latencies = new Latencies();
    try (Program echo = Program.of(Echo.class, Pattern.compile("echo at port (\\d+)"));
        Line line = Line.to(echo.hub())) {
      int frames = RATE * (warmUpS + measureS / 2);
      AtomicLongArray dueNs = new AtomicLongArray(frames);
      line.listen(
          (frame, nowNs) -> {
            int number = (int) frame.dataValue();
            if (number >= RATE * warmUpS) {
              latencies.note(nowNs - dueNs.get(number));
            }
          });
      Pace pace = new Pace(RATE);
      for (int number = 0; number < frames; number++) {
        long momentNs = pace.await(number);
        dueNs.set(number, momentNs);
        line.send(numbered(number));
      }
      pace.await(frames + RATE / 2);
    }
    return latencies;
  }

  private static CanFrame numbered(int number) {
    return new Message.EventReport(BASELINE_ALIAS, new EventId(number)).encode();
  }

  /** One run against one daemon. */
  private final class Run {

    private final SignalsInARow railroad;
    private final Program program;
    private final DeskVisitor desk;
    private final ScriptedField field;
    private final Latencies latencies = new Latencies();
    private final AtomicInteger skipped = new AtomicInteger();

    /** Signals that fell to Stop though nothing was reported that asks for it. */
    private final AtomicInteger unreasoned = new AtomicInteger();

    /** By signal: when the drop that is waited for should have been caused; 0 for none. */
    private final AtomicLongArray dueNs = new AtomicLongArray(SIGNALS);

    /** By signal: 1 while it shows a proceed aspect. */
    private final AtomicLongArray proceeds = new AtomicLongArray(SIGNALS);

    private final ScheduledExecutorService dispatcher =
        Executors.newSingleThreadScheduledExecutor();
    private final boolean[] beforeOccupied = new boolean[SIGNALS];
    private volatile boolean isMeasuring;
    private Duration busy = Duration.ZERO;

    Run(SignalsInARow railroad, Program program) throws IOException {
      this.railroad = railroad;
      this.program = program;
      desk = new DeskVisitor(program.desk());
      field = new ScriptedField(program.hub(), everythingClear(), this::heard);
    }

    private Map<EventId, Validity> everythingClear() {
      Map<EventId, Validity> states = new LinkedHashMap<>();
      for (int signal = 0; signal < SIGNALS; signal++) {
        for (boolean isOccupied : new boolean[] {true, false}) {
          Validity validity = isOccupied ? Validity.INVALID : Validity.VALID;
          states.put(railroad.before(signal, isOccupied), validity);
          states.put(railroad.ahead(signal, isOccupied), validity);
          states.put(railroad.guard(signal, isOccupied), validity);
        }
      }
      return states;
    }

    void play() throws IOException, InterruptedException {
      try (field) {
        field.awaitReady();
        lineAll();
        Pace pace = new Pace(RATE);
        int events = RATE * (warmUpS + measureS);
        for (int number = 0; number < RATE * warmUpS; number++) {
          offer(number, pace.await(number));
        }
        isMeasuring = true;
        Duration before = program.processorTime();
        for (int number = RATE * warmUpS; number < events; number++) {
          offer(number, pace.await(number));
        }
        busy = program.processorTime().minus(before);
        pace.await(events + RATE / 2);
      } finally {
        dispatcher.shutdownNow();
      }
    }

    private void lineAll() throws IOException, InterruptedException {
      for (int signal = 0; signal < SIGNALS; signal++) {
        long deadlineNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(LINING_PATIENCE_S);
        while (!desk.tell(railroad.sentence(signal))) {
          if (System.nanoTime() > deadlineNs) {
            throw new IOException("signal " + signal + " cannot be lined");
          }
          TimeUnit.MILLISECONDS.sleep(50);
        }
      }
    }

    private void offer(int number, long momentNs) {
      int turn = number / DROP_EVERY % SIGNALS;
      int half = (turn + SIGNALS / 2) % SIGNALS;
      switch (number % DROP_EVERY) {
        case 0 -> drop(turn, momentNs);
        case RESTORE_AT -> restore(half);
        default -> disturb(number % SIGNALS, number);
      }
    }

    private void drop(int signal, long momentNs) {
      if (proceeds.get(signal) == 0) {
        skipped.incrementAndGet();
        disturb(signal, 0);
        return;
      }
      dueNs.set(signal, momentNs);
      field.report(railroad.guard(signal, true), railroad.guard(signal, false));
    }

    private void restore(int signal) {
      field.report(railroad.guard(signal, false), railroad.guard(signal, true));
      var unused =
          dispatcher.schedule(() -> lineAgain(signal), LINE_AGAIN_MS, TimeUnit.MILLISECONDS);
    }

    private void lineAgain(int signal) {
      try {
        var unused = desk.tell(railroad.sentence(signal));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    /** Half of these reports repeat what is known, half change a section that matters to nobody. */
    private void disturb(int signal, int number) {
      if (number % 2 == 0) {
        field.report(railroad.ahead(signal, false), railroad.ahead(signal, true));
      } else {
        boolean now = !beforeOccupied[signal];
        beforeOccupied[signal] = now;
        field.report(railroad.before(signal, now), railroad.before(signal, !now));
      }
    }

    private void heard(EventId event, long nowNs) {
      int signal = railroad.signalOf(event);
      if (signal < 0) {
        return;
      }
      boolean isProceed = SignalsInARow.proceeds(event);
      boolean proceeded = proceeds.getAndSet(signal, isProceed ? 1 : 0) == 1;
      long dropDueNs = isProceed ? 0 : dueNs.getAndSet(signal, 0);
      if (!isProceed && proceeded && dropDueNs == 0) {
        unreasoned.incrementAndGet();
      }
      if (dropDueNs != 0 && isMeasuring) {
        latencies.note(nowNs - dropDueNs);
      }
    }

    int unanswered() {
      int waiting = 0;
      for (int signal = 0; signal < SIGNALS; signal++) {
        waiting += dueNs.get(signal) == 0 ? 0 : 1;
      }
      return waiting;
    }
  }
}
