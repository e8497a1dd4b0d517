package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.netty.channel.socket.nio.NioChannelOption;
import io.netty.channel.socket.nio.NioSocketChannel;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.HubUnderTest;

/** Peers that are gone without a word. No cable is cut here: the sockets are looked at. */
class KeepAliveTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final BackOff SOON = new BackOff(Duration.ofMillis(5), Duration.ofMillis(50));

  /** What proc_pid_net(5) calls an established connection, and a timer that keeps it alive. */
  private static final String ESTABLISHED = "01";

  private static final String KEEPS_ALIVE = "02:";
  private static final int HEX = 16;
  private static final int TICKS_PER_SECOND = 100;

  @Test
  void silentPeerIsAskedAfterFiveSecondsThreeTimesInSix() {
    NioSocketChannel channel = new NioSocketChannel();
    KeepAlive.on(channel);

    assertTrue(channel.config().isKeepAlive());
    assertEquals(3, KeepAlive.TIMES.size());
    KeepAlive.TIMES.forEach(
        (option, value) ->
            assertEquals(
                value, channel.config().getOption(NioChannelOption.of(option)), option::name));
    channel.unsafe().closeForcibly();
  }

  @Test
  void bothEndsOfAConnectionAskWithinSecondsWhetherTheOtherIsThere() throws IOException {
    try (HubUnderTest west = new HubUnderTest();
        HubUnderTest east = new HubUnderTest();
        TcpServer server = TcpServer.open(west.hub(), TcpServerTest.anyPort())) {
      int port = server.address().getPort();
      TcpClient client = TcpClient.open(east.hub(), "127.0.0.1", port, SOON);

      await().atMost(PATIENCE).until(() -> ticksToTheQuestion(port).size() == 2);
      List<Integer> ticks = ticksToTheQuestion(port);
      assertTrue(ticks.stream().allMatch(left -> left <= 5 * TICKS_PER_SECOND), ticks::toString);
      client.close();
    }
  }

  /** Of the sockets at either end of a connection to this port. */
  private static List<Integer> ticksToTheQuestion(int port) {
    String ending = ":%04X".formatted(port);
    return Stream.of("/proc/net/tcp", "/proc/net/tcp6")
        .flatMap(KeepAliveTest::sockets)
        .filter(socket -> socket[3].equals(ESTABLISHED) && socket[5].startsWith(KEEPS_ALIVE))
        .filter(socket -> socket[1].endsWith(ending) || socket[2].endsWith(ending))
        .map(socket -> Integer.parseInt(socket[5].substring(KEEPS_ALIVE.length()), HEX))
        .toList();
  }

  private static Stream<String[]> sockets(String file) {
    try {
      return Files.readAllLines(Path.of(file)).stream()
          .skip(1)
          .map(line -> line.strip().split("\\s+"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
