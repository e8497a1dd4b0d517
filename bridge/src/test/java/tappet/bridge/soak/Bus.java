package tappet.bridge.soak;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import tappet.bridge.JavaProcess;
import tappet.bridge.conformance.Dut;

/**
 * The bus on which the boards and the hostile nodes are, as one connection; and what the daemon
 * says there. It must never say a message with an alias it does not have (S-9.7.2.1 §5).
 */
final class Bus extends FrameStream {

  /** How many aliases, behind that of the boards, ask whether the daemon is there. */
  private static final int ASKERS = 0xFF;

  private static final int FIRST_ASKER = 0xE01;

  /**
   * A question goes again then: it may have been for an alias that the daemon gave up meanwhile.
   */
  private static final long ASK_AGAIN_MS = 100;

  private static final String NO_ALIAS = "000";

  private final Map<String, Character> told = new LinkedHashMap<>();
  private String device = NO_ALIAS;
  private String tentative = NO_ALIAS;
  private String answered = NO_ALIAS;
  private long heard;
  private long starts;
  private int settled;

  Bus(InetSocketAddress hub) throws IOException {
    super(hub);
    listen();
  }

  @Override
  synchronized void heard(String header, String data) {
    heard++;
    String source = header.substring(5);
    if (header.startsWith("10701") && data.equals(Dut.NODE)) {
      device = source;
    } else if (header.startsWith("10703")) {
      device = NO_ALIAS;
    } else if (header.startsWith("17")) {
      tentative = source;
    } else if (header.charAt(1) == '9') {
      heardMessage(header, data, source);
    }
    notifyAll();
  }

  private void heardMessage(String header, String data, String source) {
    if (!source.equals(device)) {
      fault(header + " comes from no alias of the daemon's, which has " + device);
    }
    if (header.startsWith("19100")) {
      starts++;
    } else if (header.startsWith("19668")) {
      answered = data.substring(1, 4);
    } else if (header.startsWith("194C") || header.startsWith("1954")) {
      told.put(header.substring(0, 4) + data, header.charAt(4));
    }
  }

  /** The alias that the daemon has, or tries to get. */
  synchronized boolean isDaemons(String alias) {
    return alias.equals(device) || alias.equals(tentative);
  }

  /** The daemon's alias now, or its last one. */
  synchronized String device() {
    return device;
  }

  synchronized long heardCount() {
    return heard;
  }

  /** How often the daemon's node was made to start again. */
  synchronized long starts() {
    return starts;
  }

  /**
   * Waits until the daemon has taken in all that was sent: it answers an inquiry from an alias that
   * has not asked for long. Before it, the watched board shows that it is there.
   */
  void settle() {
    settled = (settled + 1) % ASKERS;
    String asker = "%03X".formatted(FIRST_ASKER + settled);
    askUntil(
        () -> Boards.frame("10701", Boards.NODE) + ":X19828" + asker + "N0" + device() + ";",
        () -> answered.equals(asker));
  }

  /** What the daemon tells of these events as their consumer or producer. */
  Map<String, Character> ask(boolean asConsumer, List<String> events) {
    synchronized (this) {
      told.clear();
    }
    String enquiry = asConsumer ? "198F4" : "19914";
    String answer = asConsumer ? "194C" : "1954";
    StringBuilder questions = new StringBuilder();
    events.forEach(event -> questions.append(Boards.frame(enquiry, event)));
    askUntil(
        () -> questions, () -> events.stream().allMatch(event -> told.containsKey(answer + event)));
    Map<String, Character> answers = new LinkedHashMap<>();
    synchronized (this) {
      events.forEach(event -> answers.put(event, told.get(answer + event)));
    }
    return answers;
  }

  private interface Question {
    CharSequence text();
  }

  private void askUntil(Question question, BooleanSupplier done) {
    long endNs = System.nanoTime() + JavaProcess.PATIENCE.toNanos();
    while (!isAsked(question, done)) {
      if (hungUp() || System.nanoTime() - endNs > 0) {
        throw new AssertionError("no answer to " + question.text());
      }
    }
  }

  private boolean isAsked(Question question, BooleanSupplier done) {
    send(question.text());
    return await(done, ASK_AGAIN_MS);
  }

  /** Takes the daemon's alias from it so often, and every other one it tries. */
  void stealAlias(int times) {
    for (int theft = 0; theft < times; theft++) {
      String stolen = theft == 0 ? device() : tentative;
      send(":X10713" + stolen + "N" + Boards.NODE + ";");
      if (!await(
          () -> !tentative.equals(stolen) && !device.equals(stolen),
          TimeUnit.SECONDS.toMillis(10))) {
        throw new AssertionError("the daemon kept alias " + stolen + ", which another uses");
      }
    }
  }

  private synchronized boolean await(BooleanSupplier done, long patienceMs) {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(patienceMs);
    try {
      while (!done.getAsBoolean() && !hungUp()) {
        long leftMs = TimeUnit.NANOSECONDS.toMillis(endNs - System.nanoTime());
        if (leftMs <= 0) {
          return false;
        }
        wait(leftMs);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
    return done.getAsBoolean();
  }
}
