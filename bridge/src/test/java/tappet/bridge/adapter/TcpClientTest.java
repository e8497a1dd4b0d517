package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.FrameText;

/** Our hub as client of another one, played by a plain socket or by a second hub of ours. */
class TcpClientTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final BackOff SOON = new BackOff(Duration.ofMillis(5), Duration.ofMillis(20));

  private final HubUnderTest test = new HubUnderTest();
  private TcpClient client;

  @AfterEach
  void close() {
    if (client != null) {
      client.close();
    }
    test.close();
  }

  @Test
  void framesFlowBothWaysBetweenTwoHubs() throws IOException {
    try (HubUnderTest other = new HubUnderTest();
        TcpServer server = TcpServer.open(other.hub(), TcpServerTest.anyPort())) {
      connectTo(server.address().getPort());
      await().atMost(PATIENCE).until(() -> other.hub().connections().size() == 1);
      awaitNews(1);

      test.hub().sendAll(Frames.numbered(1, 0, 500));
      other.hub().sendAll(Frames.numbered(2, 0, 500));

      await().atMost(PATIENCE).until(() -> other.frames().size() == 500);
      await().atMost(PATIENCE).until(() -> test.frames().size() == 500);
      assertEquals(Frames.numbered(1, 0, 500), other.frames());
      assertEquals(Frames.numbered(2, 0, 500), test.frames());
      assertEquals(500, client.traffic().framesOut());
    }
  }

  @Test
  void restartOfTheOtherHubIsToldOnceAndHealsByItself() throws Exception {
    ServerSocket before = listen(0);
    int port = before.getLocalPort();
    connectTo(port);
    try (PlainPeer other = accept(before)) {
      other.say(FrameText.encode(Frames.numbered(2, 1)) + ":X195B4002N000000");
      await().atMost(PATIENCE).until(() -> test.frames().size() == 1);
      before.close();
    }
    awaitNews(2);
    await().atMost(PATIENCE).until(() -> tries() >= 1);

    try (ServerSocket listening = listen(port);
        PlainPeer other = accept(listening)) {
      other.say("0000000002;");
      other.say(Frames.numbered(2, 3));
      await().atMost(PATIENCE).until(() -> test.frames().size() == 2);
      test.hub().send(Frames.LAST);

      assertEquals(Frames.LAST, other.hear());
      assertEquals(List.of(Frames.numbered(2, 1), Frames.numbered(2, 3)), test.frames());
      String name = "TCP hub 127.0.0.1:" + port;
      assertEquals(List.of(name + " is up", name + " has left", name + " is up"), test.news());
    }
  }

  @Test
  void hubThatIsNotThereIsOneLogLineUntilItComes() throws Exception {
    int port = freePort();
    String name = "TCP hub 127.0.0.1:" + port;
    try (LogOf log = LogOf.connection(name)) {
      connectTo(port);
      awaitNews(1);
      await().atMost(PATIENCE).until(() -> tries() >= 3);
      try (ServerSocket listening = listen(port);
          PlainPeer other = accept(listening)) {
        other.say(Frames.LAST);
        await().atMost(PATIENCE).until(() -> test.frames().equals(List.of(Frames.LAST)));
        await().atMost(PATIENCE).until(() -> log.lines().size() == 3);
      }
      String refused = name + " does not answer: Connection refused: /127.0.0.1:" + port;
      assertEquals(List.of(refused, name + " is up"), test.news().subList(0, 2));
      assertEquals("WARN " + refused, log.lines().get(0));
      assertEquals("INFO " + name + " is up", log.lines().get(1));
      assertTrue(
          log.lines().get(2).matches("INFO .* is back after \\d+ tries in vain"),
          log.lines().get(2));
    }
  }

  private int tries() throws Exception {
    return test.loop().submit(client::triesInVain).get();
  }

  @Test
  void hostWithoutAddressIsToldInAnOwnersWords() {
    // RFC 2606 §2: names below .invalid never exist.
    client = TcpClient.open(test.hub(), "hub.invalid", TcpServer.PORT, SOON);

    awaitNews(1);
    assertEquals(
        "TCP hub hub.invalid:12021 cannot be found: no address is known for hub.invalid",
        test.news().get(0));
  }

  @Test
  void otherHubThatIsOverheardIsHeardAndToldNothing() throws IOException {
    try (ServerSocket listening = listen(0)) {
      int port = listening.getLocalPort();
      client = TcpClient.open(test.hub(), "127.0.0.1", port, SOON, Access.OVERHEARD);
      try (PlainPeer other = accept(listening)) {
        awaitNews(1);
        test.hub().send(Frames.LAST);
        other.say(Frames.numbered(1, 1));
        await().atMost(PATIENCE).until(() -> test.frames().size() == 1);
        client.close();

        other.hearNothing();
        assertEquals(List.of(Frames.numbered(1, 1)), test.frames());
        assertEquals(0, client.traffic().framesOut());
      }
    }
  }

  @Test
  void clientBrokenByAFaultIsBackByItself() throws IOException {
    try (ServerSocket listening = listen(0)) {
      connectTo(listening.getLocalPort());
      try (PlainPeer other = accept(listening)) {
        awaitNews(1);
        test.hub().onLoop(() -> client.breakOff("was dropped: a fault"));
        other.hearEnd();
      }
      try (PlainPeer again = accept(listening)) {
        awaitNews(3);
        test.hub().send(Frames.LAST);
        assertEquals(Frames.LAST, again.hear());
      }
      String name = client.name();
      assertEquals(
          List.of(name + " is up", name + " was dropped: a fault", name + " is up"),
          test.news().subList(0, 3));
    }
  }

  @Test
  void closedClientLeavesAndComesNeverBack() throws IOException {
    try (ServerSocket listening = listen(0)) {
      connectTo(listening.getLocalPort());
      try (PlainPeer other = accept(listening)) {
        awaitNews(1);
        client.close();
        other.hearEnd();
      }
      test.settle();
      assertEquals(2, test.news().size(), test.news().toString());
      assertTrue(test.news().get(1).endsWith(" was closed"), test.news().get(1));

      listening.setSoTimeout(10 * (int) SOON.longest().toMillis());
      assertThrows(java.net.SocketTimeoutException.class, listening::accept);
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {-1, 0, 65_536})
  void portThatCannotBeIsRefused(int port) {
    assertThrows(
        IllegalArgumentException.class,
        () -> TcpClient.open(test.hub(), "127.0.0.1", port, BackOff.USUAL));
  }

  private void connectTo(int port) {
    client = TcpClient.open(test.hub(), "127.0.0.1", port, SOON);
  }

  private void awaitNews(int lines) {
    await().atMost(PATIENCE).until(() -> test.news().size() >= lines);
  }

  private static ServerSocket listen(int port) throws IOException {
    return new ServerSocket(port, 10, InetAddress.getLoopbackAddress());
  }

  private static PlainPeer accept(ServerSocket listening) throws IOException {
    listening.setSoTimeout((int) PATIENCE.toMillis());
    return new PlainPeer(listening.accept());
  }

  private static int freePort() {
    try (ServerSocket socket = listen(0)) {
      return socket.getLocalPort();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
