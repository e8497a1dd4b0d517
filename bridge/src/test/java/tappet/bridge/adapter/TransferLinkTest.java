package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.NodeId;

/** Two segments joined by binary messages (draft) over a real socket. */
class TransferLinkTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final BackOff SOON = new BackOff(Duration.ofMillis(5), Duration.ofMillis(20));

  private static final TcpForm WEST = TcpForm.draft(NodeId.of("0A.57.00.00.00.01"));
  private static final TcpForm EAST = TcpForm.draft(NodeId.of("0A.57.00.00.00.02"));

  /** A node of the western segment; its first alias in the east is 458 (TN-9.7.2.1 §6.1). */
  private static final String NODE = "02010D123456";

  private final HubUnderTest west = new HubUnderTest();
  private final HubUnderTest east = new HubUnderTest();
  private TcpClient client;

  @AfterEach
  void close() {
    if (client != null) {
      client.close();
    }
    west.close();
    east.close();
  }

  private void connectTo(int port) {
    client = TcpClient.open(east.hub(), "127.0.0.1", port, SOON, EAST, Access.FULL);
  }

  private static void say(HubUnderTest segment, String... texts) {
    for (String text : texts) {
      segment.hub().send(frame(text));
    }
  }

  private static CanFrame frame(String text) {
    int digits = (text.length() - 12) / 2;
    int header = Integer.parseInt(text.substring(2, 10), 16);
    String data = text.substring(11, 11 + 2 * digits);
    return CanFrame.of(header, digits, data.isEmpty() ? 0 : Long.parseUnsignedLong(data, 16));
  }

  private static void awaitHeard(HubUnderTest segment, String text) {
    await().atMost(PATIENCE).until(() -> segment.frames().contains(frame(text)));
  }

  @Test
  void nodeOfOneSegmentSpeaksOnTheOtherWithAnAliasOfThat() throws IOException {
    try (TcpServer server =
        TcpServer.open(west.hub(), TcpServerTest.anyPort(), WEST, Access.FULL)) {
      connectTo(server.address().getPort());
      await().atMost(PATIENCE).until(() -> west.news().size() == 1 && east.news().size() == 1);
      assertTrue(west.news().get(0).startsWith("TCP draft client 127.0.0.1:"), west::toString);
      say(west, ":X1070167EN" + NODE + ";", ":X195B467EN0A57000000010007;");
      awaitHeard(east, ":X195B4458N0A57000000010007;");
      List<String> heard = east.frames().stream().map(FrameText::encode).toList();
      assertEquals(
          List.of(
              ":X17020458N;",
              ":X1610D458N;",
              ":X15123458N;",
              ":X14456458N;",
              ":X10700458N;",
              ":X10701458N02010D123456;"),
          heard.subList(0, 6));
      client.close();
      awaitHeard(east, ":X10703458N02010D123456;");
      await().atMost(PATIENCE).until(() -> west.hub().connections().isEmpty());
    }
  }

  @Test
  void linkThatBreaksTakesItsNodesAlongAndComesBack() throws IOException {
    int port;
    try (ServerSocket free = new ServerSocket(0)) {
      port = free.getLocalPort();
    }
    try (TcpServer server = openAt(port)) {
      connectTo(port);
      awaitUp(east);
      say(west, ":X1070167EN" + NODE + ";", ":X195B467EN0A57000000010007;");
      awaitHeard(east, ":X195B4458N0A57000000010007;");
      assertEquals(port, server.address().getPort());
    }
    awaitHeard(east, ":X10703458N02010D123456;");
    try (TcpServer server = openAt(port)) {
      awaitUp(east);
      say(west, ":X1070167EN" + NODE + ";", ":X195B467EN0A57000000010008;");
      awaitHeard(east, ":X195B4458N0A57000000010008;");
      assertEquals(port, server.address().getPort());
    }
  }

  private TcpServer openAt(int port) throws IOException {
    return TcpServer.open(
        west.hub(),
        new InetSocketAddress(InetAddress.getLoopbackAddress(), port),
        WEST,
        Access.FULL);
  }

  private void awaitUp(HubUnderTest segment) {
    await().atMost(PATIENCE).until(() -> west.hub().connections().size() == 1);
    await().atMost(PATIENCE).until(() -> segment.hub().connections().size() == 1);
  }

  /** Both ends would take their own messages for news, and round they would go. */
  @Test
  void messageThatHasBeenHereBeforeIsNotTakenAgain() throws IOException {
    try (TcpServer server =
        TcpServer.open(west.hub(), TcpServerTest.anyPort(), EAST, Access.FULL)) {
      connectTo(server.address().getPort());
      await().atMost(PATIENCE).until(() -> client.traffic().framesOut() == 0 && isUp());
      say(west, ":X1070167EN" + NODE + ";", ":X195B467EN0A57000000010007;");
      say(east, ":X1070167FN02010D123457;", ":X195B467FN0A57000000010008;");
      await().atMost(PATIENCE).until(() -> client.traffic().framesOut() == 1);
      client.close();
      await().atMost(PATIENCE).until(() -> west.hub().connections().isEmpty());
      assertEquals(List.of(), west.frames());
      assertEquals(List.of(), east.frames());
    }
  }

  private boolean isUp() {
    return west.news().size() == 1 && east.news().size() == 1;
  }
}
