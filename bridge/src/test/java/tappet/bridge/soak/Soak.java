package tappet.bridge.soak;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import tappet.bridge.JavaProcess;
import tappet.bridge.conformance.BirchHollow;
import tappet.bridge.conformance.Dut;

/**
 * Rounds of hostile frames around a daemon with one route lined: while only strangers speak, its
 * signal stays as it is; once a board has said a word against it, be it at the moment when somebody
 * makes the daemon's node start again, every signal is at Stop.
 */
final class Soak implements AutoCloseable {

  /** Well below what the daemon's queue holds, so that it is never overrun. */
  private static final int FRAMES_AT_ONCE = 1_500;

  /** Between two looks at the daemon's alias, so that few frames go to one it has no more. */
  private static final int FRAMES_A_BREATH = 50;

  private static final String APPROACH = BirchHollow.W2E_APPROACH;

  private static final List<String> STOPS =
      List.of(BirchHollow.W2E_STOP, BirchHollow.W4W_STOP, BirchHollow.W6W_STOP);

  private static final List<String> SIGNALS =
      BirchHollow.PRODUCED.stream().filter(event -> !event.startsWith("0A5700000F0021")).toList();

  private final Dut daemon;
  private final InetSocketAddress hub;
  private final Random chance;
  private final Boards boards;
  private final Bus bus;
  private final Overhearer overhearer;
  private final HostileNodes strangers;
  private long frames;
  private long visitors;

  Soak(Dut daemon, long seed) throws IOException {
    this.daemon = daemon;
    hub = daemon.hub();
    chance = new Random(seed);
    boards = new Boards(chance);
    bus = new Bus(hub);
    overhearer = new Overhearer(hub);
    strangers = new HostileNodes(chance, bus::isDaemons, bus::device);
    bus.settle();
  }

  long frames() {
    return frames;
  }

  long answers() {
    return bus.heardCount();
  }

  long starts() {
    return bus.starts();
  }

  long overheard() {
    return overhearer.heardCount();
  }

  long visitors() {
    return visitors;
  }

  /** One round of about so many frames. */
  void round(int length) throws IOException, InterruptedException {
    lineRoute();
    strangersSpeak(length / 4);
    bus.stealAlias(1 + chance.nextInt(3));
    visit();
    strangersSpeak(length / 4);
    assertShown(Stream.of(APPROACH, BirchHollow.W4W_STOP, BirchHollow.W6W_STOP));
    String restart = chance.nextBoolean() ? strangers.restart() : "";
    bus.send(restart + boards.breakTheRoute());
    bus.settle();
    assertShown(STOPS.stream());
    everybodySpeaks(length / 2);
    assertShown(STOPS.stream());
    assertEquals(List.of(), bus.faults());
    assertEquals(List.of(), overhearer.faults());
  }

  private void lineRoute() {
    bus.send(boards.allClear());
    String unused = daemon.tell("cancel w2e");
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> daemon.tell("line w2e to main-end"), answer -> !answer.startsWith("refused"));
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> bus.ask(false, List.of(APPROACH)).containsValue('4'));
  }

  private void strangersSpeak(int count) throws InterruptedException {
    speak(count, false);
  }

  private void everybodySpeaks(int count) throws InterruptedException {
    speak(count, true);
  }

  private void speak(int count, boolean withBoards) throws InterruptedException {
    for (int said = 0; said < count; said += FRAMES_AT_ONCE) {
      for (int breath = 0; breath < FRAMES_AT_ONCE; breath += FRAMES_A_BREATH) {
        bus.send(strangers.frames(FRAMES_A_BREATH));
        if (withBoards) {
          bus.send(boards.speak());
        }
      }
      frames += FRAMES_AT_ONCE;
      bus.settle();
      overhearer.awaitNumber(strangers.reports());
    }
  }

  /** What the daemon believes is what the boards said last, and its signals show no more. */
  private void assertShown(Stream<String> shown) {
    List<String> events = Boards.events();
    assertEquals(boards.expected(), bus.ask(true, events), () -> "after " + frames + " frames");
    assertEquals(
        Boards.showing(SIGNALS, shown),
        bus.ask(false, SIGNALS),
        () -> "after " + frames + " frames");
  }

  /** Somebody comes, says half a word, and is gone. */
  private void visit() throws IOException {
    visitors++;
    try (Socket visitor = new Socket(hub.getAddress(), hub.getPort())) {
      String halfWord = ":X195B4D01N" + BirchHollow.MAIN_OCCUPIED.substring(0, 15);
      visitor.getOutputStream().write(halfWord.getBytes(StandardCharsets.ISO_8859_1));
    }
  }

  @Override
  public void close() throws IOException {
    bus.close();
    overhearer.close();
  }
}
