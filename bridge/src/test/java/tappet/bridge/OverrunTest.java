package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.box.BoxListener;
import tappet.bridge.box.BoxThread;
import tappet.interlocking.Answer;
import tappet.interlocking.Step;

/** What is done is told to be done, though the box's queue is full in the same moment. */
class OverrunTest {

  @TempDir Path folder;
  private LiveLine line;

  @BeforeEach
  void start() throws IOException {
    line = LiveLine.start(folder, folder.resolve("tappet.state"), "", List.of());
  }

  @AfterEach
  void end() {
    line.close();
  }

  @Test
  void aRouteThatIsGivenUpIsToldSo() {
    line.awaitDone("line t2e to t4e");
    overrunTheBoxWithTheNextOrder();

    Console told = line.tell("cancel t2e");

    assertEquals(0, told.status(), told::toString);
  }

  @Test
  void aLockThatIsSecuredIsToldSoAndThatTheChartDoesNotKeepIt() {
    line.awaitDone("release q1 to 'Quarry crew'");
    overrunTheBoxWithTheNextOrder();

    Console told = untilNotRefused("secure q1");

    assertEquals(0, told.status(), told::toString);
    assertTrue(told.out().contains("the next start will not know it"), told::toString);
  }

  private Console untilNotRefused(String sentence) {
    AtomicReference<Console> told = new AtomicReference<>();
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(
            () -> {
              told.set(line.tell(sentence));
              return !told.toString().contains("refused");
            });
    return told.get();
  }

  private void overrunTheBoxWithTheNextOrder() {
    AtomicBoolean armed = new AtomicBoolean(true);
    BoxListener overrun =
        new BoxListener() {
          @Override
          public void stepped(Step step) {
            if (step.answer().filter(Answer::granted).isPresent() && armed.getAndSet(false)) {
              fillQueue();
            }
          }
        };
    assertTrue(
        line.daemon()
            .box()
            .ask(
                (box, nowNs) -> {
                  box.tellToo(overrun);
                  return true;
                })
            .join());
  }

  private void fillQueue() {
    BoxThread box = line.daemon().box();
    CompletableFuture<Boolean> asked = box.ask((signalBox, nowNs) -> true);
    while (!asked.isCompletedExceptionally()) {
      asked = box.ask((signalBox, nowNs) -> true);
    }
  }
}
