package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.CanFrame;

/** Hubs joined in a ring over real sockets. Common practice, no source. */
class RingTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final Duration SECOND_OR_SO = Duration.ofSeconds(2);
  private static final BackOff SOON = new BackOff(Duration.ofMillis(5), Duration.ofMillis(50));

  private final List<HubUnderTest> hubs = new ArrayList<>();
  private final List<TcpServer> servers = new ArrayList<>();
  private final List<TcpClient> links = new ArrayList<>();
  private final List<PlainPeer> clients = new ArrayList<>();

  @AfterEach
  void close() {
    clients.forEach(PlainPeer::close);
    links.forEach(TcpClient::close);
    servers.forEach(TcpServer::close);
    hubs.forEach(HubUnderTest::close);
  }

  @Test
  void twoHubsJoinedTwiceAreCutApartOnceAndEveryClientStillHearsEverything() throws Exception {
    build(2);
    link(0, 1);
    Talk talk = new Talk(clients.get(0));
    talk.start();
    link(1, 0);

    ringIsCutAndQuietAgain(talk);
  }

  @Test
  void threeHubsInARingAreCutAtOnePlaceAndEveryClientStillHearsEverything() throws Exception {
    build(3);
    link(0, 1);
    link(1, 2);
    Talk talk = new Talk(clients.get(1));
    talk.start();
    link(2, 0);

    ringIsCutAndQuietAgain(talk);
  }

  @Test
  void hubJoinedToItselfIsCutToo() throws Exception {
    build(1);
    Talk talk = new Talk(clients.get(0));
    talk.start();
    link(0, 0);

    ringIsCutAndQuietAgain(talk);
  }

  @Test
  void connectionIsPutBackWhenTheRingIsGone() throws Exception {
    build(2);
    link(0, 1);
    Talk talk = new Talk(clients.get(0));
    talk.start();
    link(1, 0);
    ringIsCutAndQuietAgain(talk);

    links.get(0).close();

    await().atMost(PATIENCE).until(() -> count("is put back") == 1);
    everyClientHears(0);
  }

  private void ringIsCutAndQuietAgain(Talk talk) throws Exception {
    await().atMost(SECOND_OR_SO).until(() -> count("it forms a ring with") > 0);
    talk.end();
    awaitQuiet();
    assertEquals(1, count("it forms a ring with"), news());
    // A ring at full speed copies far more than this; each frame was said once.
    assertTrue(heard() < 1_000L * talk.said, heard() + " frames heard, " + talk.said + " said");
    for (int speaker = 0; speaker < clients.size(); speaker++) {
      everyClientHears(speaker);
    }
  }

  private void everyClientHears(int speaker) {
    CanFrame last = CanFrame.empty(0x195B4F00 | speaker);
    CanFrame first = CanFrame.empty(0x195B4E00 | speaker);
    clients.get(speaker).say(first);
    Frames.numbered(100 + speaker, 0, 200).forEach(clients.get(speaker)::say);
    clients.get(speaker).say(last);
    for (int hearer = 0; hearer < clients.size(); hearer++) {
      if (hearer != speaker) {
        clients.get(hearer).hearUntil(first);
        assertEquals(Frames.numbered(100 + speaker, 0, 200), clients.get(hearer).hearUntil(last));
      }
    }
  }

  /** Nothing more is heard from one look to the next. */
  private void awaitQuiet() {
    long[] before = {-1};
    await()
        .atMost(SECOND_OR_SO)
        .pollInterval(Duration.ofMillis(100))
        .until(() -> before[0] == (before[0] = heard()));
  }

  private long heard() {
    return hubs.stream().mapToLong(hub -> hub.hub().counters().heard()).sum();
  }

  private long count(String words) {
    return hubs.stream().flatMap(hub -> hub.news().stream()).filter(w -> w.contains(words)).count();
  }

  private String news() {
    return hubs.stream().map(HubUnderTest::news).toList().toString();
  }

  private void build(int count) throws IOException {
    for (int index = 0; index < count; index++) {
      HubUnderTest hub = new HubUnderTest();
      hubs.add(hub);
      servers.add(TcpServer.open(hub.hub(), TcpServerTest.anyPort()));
      clients.add(PlainPeer.connect(servers.get(index).address()));
      await().atMost(PATIENCE).until(() -> hub.hub().connections().size() == 1);
    }
  }

  private void link(int from, int to) {
    int before = hubs.get(to).hub().connections().size();
    int port = servers.get(to).address().getPort();
    links.add(TcpClient.open(hubs.get(from).hub(), "127.0.0.1", port, SOON));
    await().atMost(PATIENCE).until(() -> hubs.get(to).hub().connections().size() > before);
  }

  /** Says some 1,000 frames a second until told to end. */
  private static final class Talk extends Thread {
    private final PlainPeer speaker;
    private final AtomicBoolean isOver = new AtomicBoolean();
    private volatile int said;

    Talk(PlainPeer speaker) {
      this.speaker = speaker;
    }

    @Override
    public void run() {
      for (int number = 0; !isOver.get(); number++) {
        speaker.say(Frames.numbered(1, number));
        said = number + 1;
        LockSupport.parkNanos(1_000_000);
      }
    }

    void end() throws InterruptedException {
      isOver.set(true);
      join();
    }
  }
}
