package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.adapter.PseudoTerminal;
import tappet.bridge.adapter.SerialForm;
import tappet.bridge.hub.Access;

/**
 * More than any bus carries pours out of a serial adapter; {@code bridge/bin/measure flood} for
 * longer, against a daemon with its own heap.
 */
class FloodTest {

  private static final long SEED = 1_836;
  private static final long BYTES = 500_000;

  @TempDir Path folder;
  private PseudoTerminal cable;
  private LiveLine line;

  @BeforeEach
  void start() throws IOException {
    Path near = folder.resolve("near");
    cable = PseudoTerminal.plug(near, folder.resolve("far"));
    var serial = new Settings.Serial(near.toString(), 115_200, SerialForm.TEXT, Access.FULL);
    line = LiveLine.start(folder, folder.resolve("tappet.state"), "", List.of(serial));
    line.awaitDone("line t2e to t4e");
    line.awaitProceeds("t2e");
  }

  @AfterEach
  void end() {
    line.close();
    cable.close();
  }

  // 49 CFR 236.5: what may have been lost is not known, and what is not known is not clear.
  @Test
  void signalIsNeverBetterThanKnownAndAllIsWellAfterwards() {
    int mark = line.mark();
    var poured =
        CompletableFuture.supplyAsync(() -> new Flood(SEED).pour(folder.resolve("far"), BYTES));
    while (!poured.isDone()) {
      String why = line.why("t2e");
      assertTrue(why.contains("signal t2e (Tilling 2E) shows"), why);
    }
    assertTrue(poured.join() >= BYTES, poured.join() + " bytes taken");
    await().atMost(JavaProcess.PATIENCE).until(() -> line.daemon().box().waiting() == 0);

    boolean wasOverrun = line.daemon().box().inputsLost() > 0;
    assertEquals(wasOverrun, line.toldBehind(mark, "t2e", "stop"), "Stop, and only for a reason");
    line.awaitAlarms("all is known", List::isEmpty);
    line.awaitDone("line t2e to t4e");
    line.awaitProceeds("t2e");
  }
}
