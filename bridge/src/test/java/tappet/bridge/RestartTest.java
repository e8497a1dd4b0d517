package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The daemon ends, in order or not, while a signal is clear and the railroad goes on. */
class RestartTest {

  private static final int SIGTERM_STATUS = 128 + 15;

  @TempDir Path folder;
  private Wire.Network network;
  private JavaProcess daemon;
  private String desk;

  @BeforeEach
  void lineARoute() throws IOException {
    QuickLine.write(folder);
    network = new Wire.Network(folder);
    startDaemon();
    awaitDone("line t2e to t4e");
    network.field().awaitLine("told t2e approach");
  }

  @AfterEach
  void end() {
    daemon.close();
    network.close();
  }

  @Test
  void killedDaemonComesUpAgainWithEverySignalAtStopAndAsksAgain() throws IOException {
    daemon.close();
    int mark = network.field().mark();
    startDaemon();

    network.field().awaitLine(mark, "told t2e stop");
    network.field().awaitLine(mark, "told c8w stop");
    network.field().awaitLine(mark, "asked 0A.57.00.00.05.00.33.01");
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> why("t2e").contains("route t2e-t4e can be lined"));
    assertTrue(why("t2e").startsWith("signal t2e (Tilling 2E) shows stop"), why("t2e"));
    assertTrue(
        network.field().lines().stream().skip(mark).noneMatch("told t2e approach"::equals),
        "nothing clears by itself");

    awaitDone("line t2e to t4e");
    network.field().awaitLine(mark, "told t2e approach");
  }

  @Test
  void daemonThatIsToldToEndLeavesEverySignalAtStop() throws Exception {
    int mark = network.field().mark();
    assertTrue(daemon.terminate() == SIGTERM_STATUS, daemon.lines()::toString);
    network.field().awaitLine(mark, "told t2e stop");
    network.field().awaitLine(mark, "told c8w stop");
  }

  private void startDaemon() throws IOException {
    var way = (Settings.Tcp) network.way();
    String connections = "[{tcp: '%s:%d'}]".formatted(way.host(), way.port());
    Path settings = QuickLine.settings(folder, connections);
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings.toString());
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
  }

  private void awaitDone(String sentence) {
    await()
        .atMost(JavaProcess.PATIENCE)
        .alias(sentence)
        .until(() -> Console.run("tell", "--desk", desk, sentence).status() == 0);
  }

  private String why(String name) {
    return Console.run("why", "--desk", desk, name).out();
  }
}
