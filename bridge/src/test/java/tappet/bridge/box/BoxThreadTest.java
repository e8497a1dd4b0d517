package tappet.bridge.box;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Function;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.hub.Connection;
import tappet.layout.Signal;
import tappet.lcc.CanFrame;
import tappet.lcc.Message;
import tappet.lcc.Messages;
import tappet.sentence.Condition.Occupancy;

/** The box's thread and its queue. */
class BoxThreadTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final Connection CABLE = new Cable();

  /** Heard by the listener below, this frame holds the box up. */
  private static final CanFrame HOLD = CanFrame.empty(0x195B4FFF);

  private final List<CanFrame> sent = new CopyOnWriteArrayList<>();
  private final CountDownLatch held = new CountDownLatch(1);
  private final CountDownLatch letGo = new CountDownLatch(1);
  private final BoxThread thread = new BoxThread(Tempo.REAL);

  @AfterEach
  void end() {
    letGo.countDown();
    thread.close();
  }

  @Test
  void fullQueueMakesEverythingUnknownAndAsksAgain() throws Exception {
    startReady();
    hear(DemoField.clear("west-main"));
    assertEquals(Occupancy.CLEAR, occupancyOfWestMain());
    holdTheBoxUp();
    for (int i = BoxThread.KEPT_FOR_QUESTIONS; i < BoxThread.QUEUE_CAPACITY_MAX; i++) {
      hear(DemoField.clear("west-main"));
    }
    assertEquals(0, thread.inputsLost());
    hear(DemoField.occupied("west-main"));
    assertEquals(1, thread.inputsLost());
    List<CompletableFuture<List<String>>> asked = new ArrayList<>();
    for (int i = 0; i < BoxThread.KEPT_FOR_QUESTIONS; i++) {
      asked.add(thread.ask((box, nowNs) -> box.alarms()));
    }
    CompletableFuture<List<String>> refused = thread.ask((box, nowNs) -> box.alarms());
    var failure = assertThrows(ExecutionException.class, refused::get);
    assertEquals("the daemon is overrun", failure.getCause().getMessage());

    sent.clear();
    letGo.countDown();

    await().atMost(PATIENCE).until(() -> sent.stream().anyMatch(BoxThreadTest::asks));
    assertEquals(Occupancy.UNKNOWN, occupancyOfWestMain(), "what waited before counts for nothing");
    for (CompletableFuture<List<String>> question : asked) {
      assertEquals(List.of(), question.get(PATIENCE.toSeconds(), TimeUnit.SECONDS));
    }
    assertEquals(
        List.of("the daemon was overrun and lost what came in; every device is asked again"),
        ask(SignalBox::alarms));
  }

  @Test
  void faultOutsideAnyStepPutsEverySignalToStopAndTheBoxStillAnswers() throws Exception {
    start(
        frame -> {
          if (asks(frame) && ready()) {
            throw new IllegalStateException("a fault, on purpose");
          }
          sent.add(frame);
        });
    sent.clear();
    thread.connectionUp(CABLE);
    await().atMost(PATIENCE).until(() -> !ask(SignalBox::alarms).isEmpty());
    assertTrue(everySignalWasToldToStop());
    assertEquals(
        List.of("the interlocking has failed: every signal is at stop; restart the daemon"),
        ask(SignalBox::alarms));
  }

  @Test
  void noWordOfALineIsLostInAnOverrun() throws Exception {
    startReady();
    Connection visitor = new Visitor();
    thread.connectionUp(visitor);
    thread.trouble("the book", "cannot be written");
    thread.trouble(CABLE, "tells of bus errors");
    holdTheBoxUp();
    overrun();
    thread.connectionDown(visitor, "has left");
    thread.connectionDown(CABLE, "was pulled");
    thread.troubleOver("the book");
    thread.trouble("the broker", "is not reached");
    letGoUntilThereIsRoom();

    await().atMost(PATIENCE).until(() -> ask(box -> !box.connections().get(CABLE.name())));
    assertEquals(Map.of(CABLE.name(), false), ask(SignalBox::connections));
    List<String> alarms = ask(SignalBox::alarms);
    assertTrue(alarms.contains("the cable was pulled"), alarms::toString);
    assertTrue(alarms.contains("the broker is not reached"), alarms::toString);
    assertFalse(alarms.contains("the book cannot be written"), alarms::toString);
  }

  @Test
  void ofManyWordsAboutOneLineInAnOverrunTheLastOneHolds() throws Exception {
    startReady();
    thread.connectionDown(CABLE, "was pulled");
    holdTheBoxUp();
    overrun();
    Connection other = new Visitor();
    thread.connectionUp(CABLE);
    thread.connectionDown(CABLE, "was pulled again");
    thread.connectionUp(other);
    thread.connectionUp(CABLE);
    thread.cutOff(CABLE, "was cut off");
    letGoUntilThereIsRoom();

    await().atMost(PATIENCE).until(() -> ask(box -> box.connections().containsKey(other.name())));
    assertEquals(
        Map.of(CABLE.name(), false, other.name(), true), ask(box -> Map.copyOf(box.connections())));
    assertEquals(
        List.of(
            "the cable was cut off",
            "the daemon was overrun and lost what came in; every device is asked again"),
        ask(SignalBox::alarms));
  }

  @Test
  void nothingIsDueToOneBehindWhomThereAreNoNodes() throws Exception {
    startReady();
    sent.clear();
    Connection recorder = new Recorder();
    thread.connectionUp(recorder);
    assertEquals(Map.of(CABLE.name(), true), ask(box -> Map.copyOf(box.connections())));
    thread.connectionDown(recorder, "has left");
    assertEquals(Map.of(CABLE.name(), true), ask(box -> Map.copyOf(box.connections())));
    assertEquals(List.of(), sent);
  }

  @Test
  void troubleThatIsOverLeavesAllOtherAlarmsOfTheLine() throws Exception {
    startReady();
    thread.trouble(CABLE, "reports: bus errors");
    thread.trouble(CABLE, "refuses frames");
    thread.troubleOver(CABLE, "reports: ");
    assertEquals(List.of("the cable refuses frames"), ask(SignalBox::alarms));
  }

  @Test
  void errorInAQuestionIsItsAnswerAndPutsEverySignalToStop() throws Exception {
    startReady();
    sent.clear();
    CompletableFuture<String> question =
        thread.ask(
            (box, nowNs) -> {
              throw new AssertionError("an error, on purpose");
            });
    var failure =
        assertThrows(
            ExecutionException.class, () -> question.get(PATIENCE.toSeconds(), TimeUnit.SECONDS));
    assertEquals("an error, on purpose", failure.getCause().getMessage());
    assertTrue(ask(SignalBox::hasFailed));
    assertTrue(everySignalWasToldToStop());
  }

  @Test
  void nobodyWaitsForTheAnswerOfABoxThatHasEnded() throws Exception {
    startReady();
    holdTheBoxUp();
    CompletableFuture<List<String>> waiting = thread.ask((box, nowNs) -> box.alarms());
    var closing = CompletableFuture.runAsync(thread::close);
    await().atMost(PATIENCE).until(() -> thread.waiting() == 2);
    letGo.countDown();
    closing.get(PATIENCE.toSeconds(), TimeUnit.SECONDS);

    for (var question : List.of(waiting, thread.ask((box, nowNs) -> box.alarms()))) {
      var failure =
          assertThrows(
              ExecutionException.class, () -> question.get(PATIENCE.toSeconds(), TimeUnit.SECONDS));
      assertEquals("the daemon has ended", failure.getCause().getMessage());
    }
  }

  @Test
  void closingLeavesEverySignalAtStop() throws Exception {
    startReady();
    sent.clear();
    thread.close();
    assertTrue(everySignalWasToldToStop());
  }

  private void startReady() throws Exception {
    start(sent::add);
  }

  private void start(Consumer<CanFrame> toBus) throws Exception {
    var listener = new Holder();
    thread.start(new SignalBox(DemoField.DAEMON, DemoField.interlocking(), toBus, listener));
    thread.connectionUp(CABLE);
    await().atMost(PATIENCE).until(() -> ask(SignalBox::ready));
    becameReady.countDown();
  }

  private final CountDownLatch becameReady = new CountDownLatch(1);

  private boolean ready() {
    return becameReady.getCount() == 0;
  }

  private void hear(CanFrame frame) {
    thread.frameArrived(CABLE, frame);
  }

  private void holdTheBoxUp() throws InterruptedException {
    hear(HOLD);
    assertTrue(held.await(PATIENCE.toSeconds(), TimeUnit.SECONDS));
  }

  /** Frames fill their room, and questions the rest. */
  private void overrun() {
    for (int i = thread.waiting(); i < BoxThread.QUEUE_CAPACITY_MAX; i++) {
      hear(DemoField.clear("west-main"));
    }
    while (thread.waiting() < BoxThread.QUEUE_CAPACITY_MAX) {
      var unused = thread.ask((box, nowNs) -> box.alarms());
    }
  }

  private void letGoUntilThereIsRoom() {
    letGo.countDown();
    await().atMost(PATIENCE).until(() -> thread.waiting() < BoxThread.QUEUE_CAPACITY_MAX);
  }

  private Occupancy occupancyOfWestMain() throws Exception {
    return ask(box -> box.interlocking().occupancy("west-main"));
  }

  private <T> T ask(Function<SignalBox, T> question) throws Exception {
    return thread
        .ask((box, nowNs) -> question.apply(box))
        .get(PATIENCE.toSeconds(), TimeUnit.SECONDS);
  }

  private boolean everySignalWasToldToStop() {
    return DemoField.signals().stream()
        .allMatch(
            signal -> sent.stream().anyMatch(frame -> DemoField.shows(frame, signal, Signal.STOP)));
  }

  private static boolean asks(CanFrame frame) {
    return Messages.decode(frame) instanceof Message.IdentifyProducer;
  }

  private final class Holder implements BoxListener {
    @Override
    public void frameHeard(String origin, CanFrame frame, long nowNs) {
      if (frame.equals(HOLD)) {
        held.countDown();
        awaitLetGo();
      }
    }

    private void awaitLetGo() {
      try {
        assertTrue(letGo.await(PATIENCE.toSeconds(), TimeUnit.SECONDS));
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }

  private static final class Cable implements Connection {
    @Override
    public String name() {
      return "the cable";
    }

    @Override
    public void send(CanFrame frame) {}

    @Override
    public void close() {}
  }

  /** One that only writes down what it hears. */
  private static final class Recorder implements Connection {
    @Override
    public String name() {
      return "a recorder";
    }

    @Override
    public boolean leadsToNodes() {
      return false;
    }

    @Override
    public void send(CanFrame frame) {}

    @Override
    public void close() {}
  }

  /** One whom nobody asked for. */
  private static final class Visitor implements Connection {
    @Override
    public String name() {
      return "a visitor";
    }

    @Override
    public boolean asked() {
      return false;
    }

    @Override
    public void send(CanFrame frame) {}

    @Override
    public void close() {}
  }
}
