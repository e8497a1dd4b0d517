package tappet.bridge.conformance;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The node that talks to the device under test, over a socket with text frames.
 *
 * <p>What it says and expects is written as on the wire, eight digits of header and then the data,
 * spaces anywhere. Lower-case letters stand for aliases: {@code ddd} the device under test, {@code
 * ttt} the tester, {@code uuu} a second node behind the same socket. In what is expected {@code .}
 * is any digit and {@code *} any number of them.
 *
 * <p>A reader thread takes in all that comes, looks at the form of each frame, and answers where a
 * node must without being asked by a test. Of the rest {@link #hear} gives one after the other,
 * except the device's own questions, which it may ask at any time.
 */
final class Tester implements AutoCloseable {

  /** Its node id: the one board that the layout of Birch Hollow watches. */
  static final String NODE = "0A5700000F01";

  /** The node id of the second node behind the socket. */
  static final String OTHER_NODE = "0A5700000F02";

  /** The limit for an answer (S-9.7.3 §3.7), in milliseconds. */
  static final long LIMIT_MS = 750;

  /** What a test allows: the limit, and what a busy machine with few cores may add to it. */
  private static final long PATIENCE_MS = 10 * LIMIT_MS;

  private static final long RESERVATION_WAIT_MS = 200;

  /** Longer than a node pauses between announcements, even on a busy machine. */
  private static final long QUIET_MS = 25;

  private static final int QUIET_WHILES = 8;

  /** The form TN-9.7.4.4 §4 shows, and no other: extended data frames only. */
  private static final Pattern FRAME = Pattern.compile(":X([0-9A-F]{8})N((?:[0-9A-F]{2}){0,8});");

  private static final Pattern CONTROL =
      Pattern.compile("1(?:[4-7]...|070[0-3])(?!000)...", Pattern.CASE_INSENSITIVE);

  private final Socket socket;
  private final BlockingQueue<Heard> unread = new LinkedBlockingQueue<>();
  private final List<String> transcript = new CopyOnWriteArrayList<>();
  private final List<String> faults = new CopyOnWriteArrayList<>();
  private final Thread reader = new Thread(this::read, "tester");

  private volatile String dut = "000";
  private volatile String own = "000";
  private volatile String other = "000";
  private long saidNs;
  private long slowestNs;
  private volatile boolean hungUp;

  /** A tester that has no alias yet. */
  Tester(Socket socket) {
    this.socket = socket;
    sendAtOnce(socket);
    reader.setDaemon(true);
    reader.start();
  }

  /** Small pieces too, or every second one waits for 40 ms. */
  private static void sendAtOnce(Socket socket) {
    try {
      socket.setTcpNoDelay(true);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Joins a hub as a node with two aliases, and finds the device under test. */
  static Tester join(InetSocketAddress hub) throws IOException {
    Tester tester = new Tester(new Socket(hub.getAddress(), hub.getPort()));
    tester.own = tester.reserve(0x5A1, NODE);
    tester.other = tester.reserve(0x5B1, OTHER_NODE);
    tester.findDut();
    return tester;
  }

  /** Reserves an alias as S-9.7.2.1 §6.2.1 asks, the next one if anybody objects. */
  private String reserve(int alias, String node) {
    String wanted = "%03X".formatted(alias);
    for (int part = 0; part < 4; part++) {
      say("1" + (7 - part) + node.substring(3 * part, 3 * part + 3) + wanted);
    }
    if (objected(wanted)) {
      return reserve(alias + 1, node);
    }
    say("10700" + wanted);
    say("10701" + wanted + node);
    return wanted;
  }

  private boolean objected(String alias) {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(RESERVATION_WAIT_MS);
    for (Heard heard = poll(endNs); heard != null; heard = poll(endNs)) {
      if (heard.source().equals(alias)) {
        return true;
      }
    }
    return false;
  }

  /** Reserves both aliases while frames wait that the test has yet to hear. */
  void takeAliases() {
    own = reserve(0x5A1, NODE);
    other = reserve(0x5B1, OTHER_NODE);
  }

  /** Makes the device tell its alias. */
  private void findDut() {
    send("10702ttt" + Dut.NODE);
    hearUntil("10701... " + Dut.NODE);
  }

  /** Waits until the device has nothing left to say of its own. */
  void settle() {
    for (int quiet = 0; quiet < 3; quiet++) {
      send("19488ttt 0ddd");
      quiet = hearUntil("19170ddd " + Dut.NODE).size() > 1 ? -1 : quiet;
    }
  }

  /**
   * Asks for all events of {@link BirchHollow} and hears them: a round that was under way has each
   * of them once more (S-9.7.3.1 §6.2), and what is left of either is heard out.
   */
  void hearAllEvents() {
    send("19968ttt 0ddd");
    Set<String> produced = new LinkedHashSet<>(BirchHollow.PRODUCED);
    Set<String> consumed = new LinkedHashSet<>(BirchHollow.CONSUMED);
    consumed.addAll(BirchHollow.CONSUMED_ANYWHERE);
    while (!produced.isEmpty() || !consumed.isEmpty()) {
      Heard heard = hear();
      boolean producer = heard.header().startsWith("1954");
      (producer ? produced : consumed).remove(heard.data());
    }
    hearItOut();
  }

  /**
   * Waits until it has announced all its events: some of them any moment, at its own pace. A
   * machine that stands still is quiet too, but for one of several short whiles.
   */
  void hearItOut() {
    for (int quiet = 0; quiet < QUIET_WHILES; quiet++) {
      quiet = hearFor(QUIET_MS).isEmpty() ? quiet : -1;
    }
  }

  String dutAlias() {
    return dut;
  }

  /** The frame as it goes over the wire. */
  String inFull(String frame) {
    return frame.replace(" ", "").replace("ddd", dut).replace("ttt", own).replace("uuu", other);
  }

  /** Sends frames, in one write. */
  void send(String... frames) {
    StringBuilder text = new StringBuilder();
    for (String frame : frames) {
      String full = inFull(frame);
      transcript.add("> " + full);
      text.append(":X").append(full, 0, 8).append('N').append(full.substring(8)).append(';');
    }
    saidNs = System.nanoTime();
    sendText(text.toString());
  }

  /** Sends any text. */
  void sendText(String text) {
    try {
      byte[] bytes = text.getBytes(StandardCharsets.ISO_8859_1);
      synchronized (socket) {
        socket.getOutputStream().write(bytes);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void say(String frame) {
    sendText(":X" + frame.substring(0, 8) + "N" + frame.substring(8) + ";");
  }

  /** The next frame must be this one. */
  Heard expect(String frame) {
    Heard heard = hear();
    if (!matches(heard, frame)) {
      throw wrong("expected " + inFull(frame) + ", heard " + heard);
    }
    slowestNs = Math.max(slowestNs, heard.atNs() - saidNs);
    return heard;
  }

  /** The next frames must be these, in any order. */
  void expectAll(String... frames) {
    List<String> missing = new ArrayList<>(List.of(frames));
    while (!missing.isEmpty()) {
      Heard heard = hear();
      String found =
          missing.stream()
              .filter(frame -> matches(heard, frame))
              .findFirst()
              .orElseThrow(() -> wrong("expected one of " + missing + ", heard " + heard));
      missing.remove(found);
      slowestNs = Math.max(slowestNs, heard.atNs() - saidNs);
    }
  }

  /** Sends frames that must lead to nothing: the answer to a later question comes first. */
  void sendInVain(String... frames) {
    send(frames);
    send("19488ttt 0ddd");
    expect("19170ddd " + Dut.NODE);
  }

  /** For so long it must say nothing but its own questions. */
  void expectSilence(long ms) {
    List<Heard> heard = hearFor(ms).stream().filter(frame -> !isOwnQuestion(frame)).toList();
    if (!heard.isEmpty()) {
      throw wrong("expected silence for " + ms + " ms, heard " + heard);
    }
  }

  /** All that comes within the time. */
  List<Heard> hearFor(long ms) {
    List<Heard> heard = new ArrayList<>();
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(ms);
    for (Heard frame = poll(endNs); frame != null; frame = poll(endNs)) {
      heard.add(frame);
    }
    return heard;
  }

  /** When the latest frames were sent, on the clock of {@link System#nanoTime}. */
  long saidNs() {
    return saidNs;
  }

  /** All frames up to this one, itself included. */
  List<Heard> hearUntil(String frame) {
    List<Heard> heard = new ArrayList<>();
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(PATIENCE_MS);
    do {
      if (System.nanoTime() - endNs > 0) {
        throw wrong("did not hear " + inFull(frame) + " within " + PATIENCE_MS + " ms");
      }
      heard.add(hear());
    } while (!matches(heard.get(heard.size() - 1), frame));
    return heard;
  }

  /** The next frame that is no question of the device's own. */
  Heard hear() {
    return hear(heard -> !isOwnQuestion(heard));
  }

  /** The next frame of this kind; others are passed over. */
  Heard hear(Predicate<Heard> wanted) {
    long endNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(PATIENCE_MS);
    for (Heard heard = poll(endNs); heard != null; heard = poll(endNs)) {
      if (wanted.test(heard)) {
        return heard;
      }
    }
    throw wrong(hungUp ? "the device has hung up" : "nothing heard within " + PATIENCE_MS + " ms");
  }

  private Heard poll(long endNs) {
    try {
      long leftNs = Math.max(0, endNs - System.nanoTime());
      Heard heard = unread.poll(leftNs, TimeUnit.NANOSECONDS);
      if (heard != null && matches(heard, "10701... " + Dut.NODE)) {
        dut = heard.source();
      }
      return heard;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  boolean matches(Heard heard, String frame) {
    String pattern = inFull(frame).replace("*", ".*");
    return (heard.header() + heard.data()).matches(pattern);
  }

  /** It asks producers for what it does not know, and boards that are silent for their node id. */
  private boolean isOwnQuestion(Heard heard) {
    return matches(heard, "19914ddd *")
        || (matches(heard, "19490ddd *") && !heard.data().equals(Dut.NODE));
  }

  /** What was said to an alias since it was given up. */
  List<String> heardSince(String alias) {
    List<String> soFar = List.copyOf(transcript);
    int reset = -1;
    for (int line = 0; line < soFar.size(); line++) {
      reset = soFar.get(line).startsWith("> 10703" + alias) ? line : reset;
    }
    return soFar.subList(reset + 1, soFar.size()).stream()
        .filter(line -> line.matches("< 19..8" + dut + " ." + alias + ".*"))
        .toList();
  }

  AssertionError wrong(String what) {
    List<String> soFar = List.copyOf(transcript);
    String last = String.join("\n  ", soFar.subList(Math.max(0, soFar.size() - 40), soFar.size()));
    return new AssertionError(what + "; the dialogue so far:\n  " + last);
  }

  private void read() {
    StringBuilder text = new StringBuilder();
    byte[] piece = new byte[8192];
    try (InputStream in = socket.getInputStream()) {
      for (int length = in.read(piece); length >= 0; length = in.read(piece)) {
        text.append(new String(piece, 0, length, StandardCharsets.ISO_8859_1));
        takeFrames(text);
      }
    } catch (IOException e) {
      // The test, or the device, has closed the socket.
    }
    hungUp = true;
  }

  private void takeFrames(StringBuilder text) {
    int end = text.lastIndexOf(";") + 1;
    Matcher frames = FRAME.matcher(text).region(0, end);
    int upTo = 0;
    while (frames.find()) {
      fault(frames.start() != upTo, text.substring(upTo, frames.start()));
      upTo = frames.end();
      take(new Heard(frames.group(1), frames.group(2), System.nanoTime()));
    }
    fault(upTo != end, text.substring(upTo, end));
    text.delete(0, end);
  }

  private void take(Heard heard) {
    transcript.add("< " + heard);
    if (transcript.size() > 4096) {
      transcript.subList(0, 2048).clear();
    }
    fault(heard.source().equals("000"), heard + " has no source alias");
    fault(heard.header().charAt(0) != '1', heard + " has bit 28 clear");
    fault(!heard.isMessage() && !CONTROL.matcher(heard.header()).matches(), heard + " is reserved");
    answerAsNode(heard);
    unread.add(heard);
  }

  private void fault(boolean isSo, String what) {
    if (isSo) {
      faults.add(what);
    }
  }

  /** What every node owes to others: its aliases defended, and its node id told. */
  private void answerAsNode(Heard heard) {
    answerAsNode(heard, own, NODE);
    answerAsNode(heard, other, OTHER_NODE);
  }

  private void answerAsNode(Heard heard, String alias, String node) {
    boolean forAnyOrMe = heard.data().isEmpty() || heard.data().equals(node);
    boolean toMe = heard.data().startsWith("0" + alias);
    if (alias.equals("000")) {
      return;
    }
    if (heard.source().equals(alias) && heard.header().matches("1[4-7]......")) {
      say("10700" + alias);
    } else if (heard.header().startsWith("10702") && forAnyOrMe) {
      say("10701" + alias + node);
    } else if ((heard.header().startsWith("19490") && forAnyOrMe)
        || (heard.header().startsWith("19488") && toMe)) {
      say("19170" + alias + node);
    }
  }

  /** What was wrong with the form of the frames heard so far. */
  List<String> faults() {
    return List.copyOf(faults);
  }

  /** The longest time from a question to the answer expected, in milliseconds. */
  long slowestMs() {
    return TimeUnit.NANOSECONDS.toMillis(slowestNs);
  }

  @Override
  public void close() {
    try {
      socket.close();
      reader.join(TimeUnit.SECONDS.toMillis(5));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
