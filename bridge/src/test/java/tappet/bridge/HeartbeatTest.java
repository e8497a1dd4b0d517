package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.lcc.EventId;
import tappet.lcc.NodeId;

/**
 * Boards that hear nobody watch put their signals to Stop by themselves: the closed-circuit
 * principle (49 CFR 236.5) carried as far as the boards. On virtual time.
 */
class HeartbeatTest {

  private static final Path DEMO = Path.of("..", "config", "demo");
  private static final String BEAT = "0A.57.00.00.00.01.00.01";
  private static final Duration LONG = Duration.ofSeconds(60);

  @TempDir Path folder;

  private RailroadUnderTest ready(String heartbeat) throws IOException {
    String layout = Files.readString(DEMO.resolve("layout.yaml"));
    Files.writeString(folder.resolve("layout.yaml"), layout + heartbeat);
    Files.copy(DEMO.resolve("rules.yaml"), folder.resolve("rules.yaml"));
    return RailroadUnderTest.ready(RailroadUnderTest.railroad(folder), RailroadUnderTest.EXTRA_41);
  }

  private RailroadUnderTest watched() throws IOException {
    return ready("\nheartbeat: {event: " + BEAT + ", every: 1 s, lost after: 3 s}\n");
  }

  private static void lineF2e(RailroadUnderTest railroad) {
    railroad.tell("line f2e to t2e");
    railroad.passUntil(LONG, "f2e proceeds", () -> proceeds(railroad, "f2e"));
  }

  private static boolean proceeds(RailroadUnderTest railroad, String signal) {
    return !railroad.railway.aspect(signal).equals("stop");
  }

  private static List<String> proceeding(RailroadUnderTest railroad) {
    return railroad.interlocking.layout().signals().keySet().stream()
        .filter(signal -> proceeds(railroad, signal))
        .toList();
  }

  @Test
  void signalsProceedWhileTheHeartbeatGoesOn() throws IOException {
    RailroadUnderTest railroad = watched();
    lineF2e(railroad);
    railroad.passTime(LONG);
    assertTrue(proceeds(railroad, "f2e"));
    assertEquals(railroad.interlocking.aspect("f2e"), railroad.railway.aspect("f2e"));
  }

  @Test
  void boardsPutTheirSignalsToStopWhenTheDaemonIsSilent() throws IOException {
    RailroadUnderTest railroad = watched();
    lineF2e(railroad);
    railroad.runDaemon(false);
    railroad.passTime(Duration.ofSeconds(4));
    assertEquals(List.of(), proceeding(railroad));
    for (String crossing : railroad.interlocking.layout().lineside().crossings().keySet()) {
      assertTrue(railroad.railway.isWarning(crossing), crossing);
    }
  }

  /** What the test above would see if boards did not watch. */
  @Test
  void withoutAHeartbeatABoardCannotKnow() throws IOException {
    RailroadUnderTest railroad = ready("");
    lineF2e(railroad);
    railroad.runDaemon(false);
    railroad.passTime(Duration.ofSeconds(4));
    assertNotEquals(List.of(), proceeding(railroad));
  }

  @Test
  void daemonThatComesBackIsObeyedAgain() throws IOException {
    RailroadUnderTest railroad = watched();
    lineF2e(railroad);
    railroad.pullCable();
    railroad.passTime(Duration.ofSeconds(10));
    assertEquals(List.of(), proceeding(railroad));
    railroad.plugCableIn();
    railroad.passTime(LONG);
    railroad.tell("line f2e to t2e");
    railroad.passUntil(LONG, "f2e proceeds", () -> proceeds(railroad, "f2e"));
    assertEquals(railroad.interlocking.aspect("f2e"), railroad.railway.aspect("f2e"));
  }

  /** A board begins without having heard anybody, and obeys as soon as it has. */
  @Test
  void boardThatBeginsAnewShowsAgainWhatItIsTold() throws IOException {
    RailroadUnderTest railroad = watched();
    NodeId board =
        railroad.interlocking.layout().signals().get("f2e").shows().values().stream()
            .map(EventId::allocatedBy)
            .findFirst()
            .orElseThrow();
    railroad.railway.silence(board);
    railroad.passTime(LONG);
    railroad.railway.restore(board);
    railroad.carry();
    railroad.passTime(LONG);
    lineF2e(railroad);
    assertEquals(railroad.interlocking.aspect("f2e"), railroad.railway.aspect("f2e"));
  }
}
