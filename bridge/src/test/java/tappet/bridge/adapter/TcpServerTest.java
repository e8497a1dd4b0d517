package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.HubUnderTest;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/** Real sockets on the loopback address. Common practice, no source, unless a line says more. */
class TcpServerTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);

  private final HubUnderTest test = new HubUnderTest();
  private final List<PlainPeer> peers = new ArrayList<>();
  private TcpServer server;

  @BeforeEach
  void open() throws IOException {
    server = TcpServer.open(test.hub(), anyPort());
  }

  @AfterEach
  void close() {
    peers.forEach(PlainPeer::close);
    server.close();
    test.close();
  }

  @Test
  void everyClientHearsAllOthersOnceAndInOrderWhileAllSpeakAtOnce() throws Exception {
    int clients = 5;
    int frames = 2_000;
    List<PlainPeer> all = joined(clients);

    List<Thread> speakers = new ArrayList<>();
    for (int sender = 0; sender < clients; sender++) {
      speakers.add(speaker(all.get(sender), sender, frames));
    }
    for (Thread speaker : speakers) {
      speaker.join();
    }
    await().atMost(PATIENCE).until(() -> test.frames().size() == clients * frames);
    test.hub().send(Frames.LAST);

    for (int hearer = 0; hearer < clients; hearer++) {
      List<CanFrame> heard = all.get(hearer).hearUntil(Frames.LAST);
      assertEquals((clients - 1) * frames, heard.size());
      for (int sender = 0; sender < clients; sender++) {
        List<CanFrame> expected = sender == hearer ? List.of() : Frames.numbered(sender, 0, frames);
        assertEquals(expected, of(sender, heard));
      }
    }
  }

  private static Thread speaker(PlainPeer peer, int sender, int frames) {
    String text =
        Frames.numbered(sender, 0, frames).stream()
            .map(FrameText::encode)
            .collect(Collectors.joining());
    Thread thread = new Thread(() -> sayInPieces(peer, text, new Random(sender)));
    thread.start();
    return thread;
  }

  /** Cuts the text anywhere; the seed is the sender's number. */
  private static void sayInPieces(PlainPeer peer, String text, Random random) {
    byte[] bytes = text.getBytes(StandardCharsets.US_ASCII);
    int done = 0;
    while (done < bytes.length) {
      int length = Math.min(1 + random.nextInt(200), bytes.length - done);
      peer.say(bytes, done, length);
      done += length;
    }
  }

  private static List<CanFrame> of(int sender, List<CanFrame> frames) {
    int header = Frames.numbered(sender, 0).header();
    return frames.stream().filter(frame -> frame.header() == header).toList();
  }

  @Test
  void garbageOfOneClientIsSkippedAndCountedAndItsLaterFramesAreHeard() {
    List<PlainPeer> both = joined(2);

    both.get(0).say("GET / HTTP/1.1\r\n:X19A28;:XZZ\0\377:X195B4000N0;");
    both.get(0).say(Frames.numbered(0, 1));
    both.get(0).say(Frames.LAST);

    assertEquals(List.of(Frames.numbered(0, 1)), both.get(1).hearUntil(Frames.LAST));
    Traffic traffic = test.hub().connections().get(0).traffic();
    assertEquals(2, traffic.framesIn());
    assertEquals(3, traffic.malformed());
    assertTrue(traffic.skippedBytes() > 20, traffic.toString());
  }

  @Test
  void frameHalfSaidByAKilledClientIsHeardByNobody() {
    PlainPeer listening = joined(1).get(0);
    PlainPeer killed = joined(1).get(0);

    killed.say(FrameText.encode(Frames.numbered(1, 1)) + ":X195B4000N01");
    assertEquals(Frames.numbered(1, 1), listening.hear());
    killed.kill();
    await().atMost(PATIENCE).until(() -> test.hub().connections().size() == 1);
    PlainPeer next = joined(1).get(0);
    next.say("02;");
    next.say(Frames.LAST);

    assertEquals(List.of(), listening.hearUntil(Frames.LAST));
    assertEquals(List.of(killed.name() + " broke off: Connection reset"), downs(killed));
  }

  @Test
  void clientThatLeavesIsToldOnceInAnOwnersWords() {
    PlainPeer leaving = joined(1).get(0);

    leaving.close();

    await().atMost(PATIENCE).until(() -> test.hub().connections().isEmpty());
    assertEquals(List.of(leaving.name() + " is up", leaving.name() + " has left"), test.news());
  }

  @Test
  void clientThatNeverReadsIsDroppedWhileTheOthersHearEverything() throws Exception {
    PlainPeer deaf = joined(1).get(0);
    PlainPeer hearing = joined(1).get(0);
    int[] sent = {0};
    int batch = 1_000;

    Hearer hearer = new Hearer(hearing);
    hearer.start();
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(1))
        .until(
            () -> {
              if (sent[0] - hearer.count < 5 * batch) {
                test.hub().sendAll(Frames.numbered(0, sent[0], sent[0] + batch));
                sent[0] += batch;
              }
              return test.hub().connections().size() == 1;
            });
    test.hub().send(Frames.LAST);
    hearer.join();

    assertEquals(sent[0], hearer.count);
    assertEquals(hashOf(Frames.numbered(0, 0, sent[0])), hearer.hash);
    assertEquals(
        List.of(deaf.name() + " was dropped: it does not read, and more than 512 KiB wait for it"),
        downs(deaf));
  }

  private static long hashOf(List<CanFrame> frames) {
    return frames.stream()
        .mapToLong(CanFrame::hashCode)
        .reduce(0, (hash, next) -> 31 * hash + next);
  }

  /** Reads all the time, and keeps a hash of the sequence instead of the frames. */
  private static final class Hearer extends Thread {
    private final PlainPeer peer;
    private volatile int count;
    private volatile long hash;

    Hearer(PlainPeer peer) {
      this.peer = peer;
    }

    @Override
    public void run() {
      int heard = 0;
      long sum = 0;
      for (CanFrame frame = peer.hear(); !frame.equals(Frames.LAST); frame = peer.hear()) {
        sum = 31 * sum + frame.hashCode();
        hash = sum;
        count = ++heard;
      }
    }
  }

  // Memory and open files have an end; one that calls on and on must not find it.
  @Test
  void oneTooManyIsTurnedAwayUntilAnotherLeaves() throws IOException {
    List<PlainPeer> all = joined(TcpServer.CLIENTS_MAX);

    try (PlainPeer tooMany = PlainPeer.connect(server.address())) {
      tooMany.hearEnd();
    }
    assertEquals(TcpServer.CLIENTS_MAX, test.hub().connections().size());

    all.get(0).close();
    await()
        .atMost(PATIENCE)
        .until(() -> test.hub().connections().size() == TcpServer.CLIENTS_MAX - 1);
    joined(1);
  }

  @Test
  void clientsOfASecondAddressMayOnlyListen() throws IOException {
    try (TcpServer gallery = TcpServer.open(test.hub(), anyPort(), Access.VISITOR);
        PlainPeer visitor = PlainPeer.connect(gallery.address())) {
      await().atMost(PATIENCE).until(() -> test.hub().connections().size() == 1);
      PlainPeer crew = joined(1).get(0);

      visitor.say(Frames.numbered(1, 1));
      await().atMost(PATIENCE).until(() -> test.hub().counters().refused() == 1);
      crew.say(Frames.numbered(2, 1));
      await().atMost(PATIENCE).until(() -> test.frames().size() == 1);
      test.hub().send(Frames.LAST);

      assertEquals(List.of(), crew.hearUntil(Frames.LAST));
      assertEquals(Frames.numbered(2, 1), visitor.hear());
      assertEquals(List.of(Frames.numbered(2, 1)), test.frames());
      String name = "TCP listener 127.0.0.1:" + visitor.port();
      assertEquals(name, test.hub().connections().get(0).name());
      assertFalse(test.hub().connections().get(0).leadsToNodes());
      assertTrue(test.hub().connections().get(1).leadsToNodes());
    }
  }

  @Test
  void addressTakenIsAClearError() {
    IOException error =
        assertThrows(IOException.class, () -> TcpServer.open(test.hub(), server.address()));

    assertEquals(
        "cannot listen on 127.0.0.1:%d for TCP clients: Address already in use"
            .formatted(server.address().getPort()),
        error.getMessage());
  }

  @Test
  void closingTheServerClosesItsClientsAndFreesThePort() throws IOException {
    List<PlainPeer> both = joined(2);

    server.close();

    both.forEach(PlainPeer::hearEnd);
    await().atMost(PATIENCE).until(() -> test.hub().connections().isEmpty());
    assertEquals(List.of(both.get(0).name() + " was closed"), downs(both.get(0)));
    TcpServer.open(test.hub(), server.address()).close();
  }

  @Test
  void usualAddressIsOfThisMachineOnly() {
    // TCP-TN (draft) §4.1 for the port.
    assertEquals("127.0.0.1:12021", AddressText.of(TcpServer.usualAddress()));
  }

  private List<PlainPeer> joined(int count) {
    int before = test.hub().connections().size();
    List<PlainPeer> fresh = new ArrayList<>();
    for (int index = 0; index < count; index++) {
      fresh.add(PlainPeer.connect(server.address()));
      int expected = before + index + 1;
      await().atMost(PATIENCE).until(() -> test.hub().connections().size() == expected);
    }
    peers.addAll(fresh);
    return fresh;
  }

  private List<String> downs(PlainPeer peer) {
    return test.news().stream()
        .filter(line -> line.startsWith(peer.name() + " ") && !line.endsWith(" is up"))
        .toList();
  }

  static InetSocketAddress anyPort() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), 0);
  }
}
