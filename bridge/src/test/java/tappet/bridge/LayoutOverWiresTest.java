package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BiFunction;
import java.util.function.Predicate;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.box.SignalBox;
import tappet.interlocking.Answer;
import tappet.layout.Signal;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problems;

/** The daemon in real time, and the railroad in another process behind a real wire. */
class LayoutOverWiresTest {

  @TempDir Path folder;
  private Wire wire;
  private Daemon daemon;

  @BeforeEach
  void writeFiles() throws IOException {
    QuickLine.write(folder);
  }

  @AfterEach
  void end() {
    if (daemon != null) {
      daemon.close();
    }
    if (wire != null) {
      wire.close();
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"serial", "tcp"})
  void trainRunsOverALinedRouteAndSignalsAndSectionsFollow(String kind) throws Exception {
    start(kind);
    awaitUntil("the train is seen", box -> occupancy(box, "west-main") == Occupancy.OCCUPIED);
    awaitGranted("line t2e to t6e");
    wire.field().awaitLine("told t2e diverging-approach");
    wire.field().type("run 'Extra 41'");
    wire.field().awaitLine("done: run 'Extra 41'");
    awaitUntil("the train in the siding", LayoutOverWiresTest::isInTheSiding);
    awaitUntil("Stop behind the train", box -> aspect(box, "t2e").equals(Signal.STOP));
    awaitUntil("the route gone", box -> !box.interlocking().routeLocked("t2e-t6e"));
    assertEquals(List.of(), ask((box, nowNs) -> box.alarms()));
  }

  private static boolean isInTheSiding(SignalBox box) {
    return occupancy(box, "tilling-siding") == Occupancy.OCCUPIED
        && occupancy(box, "tilling-w") == Occupancy.CLEAR
        && occupancy(box, "west-main") == Occupancy.CLEAR;
  }

  @ParameterizedTest
  @ValueSource(strings = {"serial", "tcp"})
  void cutWireStopsEverythingUntilAllIsKnownAndAskedForAgain(String kind) throws Exception {
    start(kind);
    awaitGranted("line t2e to t4e");
    wire.field().awaitLine("told t2e approach");

    wire.cut();

    awaitUntil("Stop", box -> aspect(box, "t2e").equals(Signal.STOP));
    awaitUntil("the alarm", box -> box.alarms().stream().anyMatch(wire::isToldBy));
    String why = ask((box, nowNs) -> box.why("t2e", nowNs)).orElseThrow().text();
    assertTrue(why.contains("power district west (West end) has not reported"), why);

    int mark = kind.equals("serial") ? wire.field().mark() : 0;
    wire.mend();

    awaitUntil("no alarm", box -> box.alarms().isEmpty());
    awaitUntil("all is known", LayoutOverWiresTest::knowsEverything);
    wire.field().awaitLine(mark, "asked 0A.57.00.00.02.00.12.01");
    wire.field().awaitLine(mark, "told t2e stop");
    assertEquals(Signal.STOP, ask((box, nowNs) -> aspect(box, "t2e")));
    assertTrue(
        wire.field().lines().stream().skip(mark).noneMatch("told t2e approach"::equals),
        "nothing clears by itself");

    awaitGranted("line t2e to t4e");
    wire.field().awaitLine(mark, "told t2e approach");
  }

  private static boolean knowsEverything(SignalBox box) {
    var layout = box.interlocking().layout();
    return layout.sections().keySet().stream()
            .noneMatch(section -> occupancy(box, section) == Occupancy.UNKNOWN)
        && layout.switches().keySet().stream()
            .allMatch(id -> box.interlocking().position(id).isPresent());
  }

  private void start(String kind) throws IOException {
    wire = Wire.open(kind, folder);
    Settings settings =
        QuickLine.settings(folder, folder.resolve("tappet.state"), List.of(wire.way()));
    daemon = Daemon.start(settings, QuickLine.charted(QuickLine.read(folder)));
  }

  /** Asks for a route until it is granted: sections are vacant only some time after they clear. */
  private void awaitGranted(String sentence) {
    Command command =
        Sentences.command(sentence, Place.inText("sentence", 1), new Problems()).orElseThrow();
    await()
        .atMost(JavaProcess.PATIENCE)
        .alias(sentence)
        .until(() -> ask((box, nowNs) -> box.tell(command, nowNs)), Answer::granted);
  }

  private void awaitUntil(String what, Predicate<SignalBox> isSo) {
    await()
        .atMost(JavaProcess.PATIENCE)
        .alias(what)
        .until(() -> ask((box, nowNs) -> isSo.test(box)));
  }

  private <T> T ask(BiFunction<SignalBox, Long, T> question)
      throws InterruptedException, ExecutionException, TimeoutException {
    return daemon.box().ask(question).get(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS);
  }

  private static Occupancy occupancy(SignalBox box, String section) {
    return box.interlocking().occupancy(section);
  }

  private static String aspect(SignalBox box, String signal) {
    return box.interlocking().aspect(signal);
  }
}
