package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The box of a running daemon is held up as a fault would hold it, in real time, while boards watch
 * its heartbeat; 49 CFR 236.5.
 */
class StalledBoxTest {

  private static final String HEARTBEAT =
      "\nheartbeat: {event: 0A.57.00.00.00.01.00.01, every: 100 ms, lost after: 1 s}\n";

  @TempDir Path folder;
  private final CountDownLatch letGo = new CountDownLatch(1);
  private LiveLine line;

  @BeforeEach
  void clearASignal() throws IOException {
    line = LiveLine.start(folder, folder.resolve("tappet.state"), HEARTBEAT, List.of());
    line.awaitDone("line t2e to t4e");
    line.awaitProceeds("t2e");
  }

  @AfterEach
  void end() {
    letGo.countDown();
    line.close();
  }

  @Test
  void boardsFallToStopAndNothingClearsAgainByWhatWasKnownBefore() {
    CompletableFuture<Boolean> stalled = stall();
    await().atMost(JavaProcess.PATIENCE).until(() -> line.proceeding().isEmpty());
    line.happen("section tilling-w reports occupied");
    int mark = line.mark();
    letGo.countDown();

    assertTrue(stalled.join());
    line.awaitAlarms("stood still", alarms -> alarms.stream().anyMatch(StalledBoxTest::isOfIt));
    line.awaitAlarms("all is known", alarms -> alarms.stream().noneMatch(StalledBoxTest::isOfIt));
    assertEquals(List.of(), line.proceeding());
    line.happen("section tilling-w reports the truth");
    line.awaitDone("line t6e to m2e");
    assertFalse(line.toldBehind(mark, "t2e", "approach"), "the section was known to be clear");

    line.awaitDone("cancel t2e");
    line.awaitDone("line t2e to t4e");
    line.awaitProceeds("t2e");
  }

  private static boolean isOfIt(String alarm) {
    return alarm.equals("the daemon stood still; every device is asked again");
  }

  private CompletableFuture<Boolean> stall() {
    return line.daemon()
        .box()
        .ask(
            (box, nowNs) -> {
              try {
                return letGo.await(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS);
              } catch (InterruptedException e) {
                return false;
              }
            });
  }
}
