package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/** Serial adapters on pseudo-terminals. Common practice, no source. */
class SerialAdapterTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final BackOff SOON = new BackOff(Duration.ofMillis(5), Duration.ofMillis(50));
  private static final int RATE = 115_200;

  private static final int FLOOD = 20_000;

  /** {@code :X12345678N;}, shorter than any that is sent here. */
  private static final int FRAME_BYTES_LEAST = 12;

  @TempDir private Path folder;
  private Path near;
  private Path far;
  private String name;

  private final HubUnderTest test = new HubUnderTest();
  private SerialAdapter adapter;
  private PseudoTerminal cable;

  @BeforeEach
  void name() {
    near = folder.resolve("near");
    far = folder.resolve("far");
    name = "serial adapter " + near;
  }

  /** Closing leaves no thread behind, whatever the test did before. */
  @AfterEach
  void close() {
    if (adapter != null) {
      adapter.close();
    }
    await().atMost(PATIENCE).until(() -> threads().isEmpty());
    test.close();
    if (cable != null) {
      cable.close();
    }
  }

  private List<String> threads() {
    return Thread.getAllStackTraces().keySet().stream()
        .map(Thread::getName)
        .filter(thread -> thread.equals("read " + near) || thread.equals("write " + near))
        .toList();
  }

  @Test
  void framesFlowBothWaysThroughACable() throws Exception {
    plugIn();
    try (HubUnderTest other = new HubUnderTest()) {
      open();
      SerialAdapter opposite = SerialAdapter.open(other.hub(), far.toString(), RATE, SOON);
      awaitNews(1);
      await().atMost(PATIENCE).until(() -> other.news().size() == 1);

      test.hub().sendAll(Frames.numbered(1, 0, 2_000));
      other.hub().sendAll(Frames.numbered(2, 0, 2_000));

      await().atMost(PATIENCE).until(() -> other.frames().size() == 2_000);
      await().atMost(PATIENCE).until(() -> test.frames().size() == 2_000);
      assertEquals(Frames.numbered(1, 0, 2_000), other.frames());
      assertEquals(Frames.numbered(2, 0, 2_000), test.frames());
      assertEquals(2_000, adapter.traffic().framesOut());
      assertEquals(2_000, adapter.traffic().framesIn());
      opposite.close();
      await().atMost(PATIENCE).until(() -> other.news().size() == 2);
    }
  }

  @Test
  void pulledCableIsToldOnceAndHealsByItselfWhenPluggedInAgain() throws Exception {
    plugIn();
    open();
    awaitNews(1);
    say(FrameText.encode(Frames.numbered(1, 1)) + ":X195B4001N000000");
    awaitFrames(1);
    pullOut();
    awaitNews(2);
    plugIn();
    awaitNews(3);
    say("0000000002;" + FrameText.encode(Frames.numbered(1, 3)));
    awaitFrames(2);
    assertEquals(List.of(Frames.numbered(1, 1), Frames.numbered(1, 3)), test.frames());
    assertEquals(
        List.of(name + " is up", name + " does not answer: device gone", name + " is up"),
        test.news());
  }

  @Test
  void cablePulledWhileFramesAreWrittenIsToldOnce() throws Exception {
    plugIn();
    open();
    awaitNews(1);
    cable.freeze();
    test.hub().sendAll(Frames.numbered(1, 0, SerialLink.QUEUE_FRAMES_MAX / 2));
    await().atMost(PATIENCE).until(() -> adapter.traffic().framesOut() > 0);
    pullOut();
    awaitNews(2);
    plugIn();
    awaitNews(3);
    assertEquals(
        List.of(name + " is up", name + " does not answer: device gone", name + " is up"),
        test.news());
  }

  @Test
  void adapterBrokenByAFaultIsBackByItself() throws Exception {
    plugIn();
    open();
    awaitNews(1);

    test.hub().onLoop(() -> adapter.breakOff("was dropped: a fault"));

    awaitNews(3);
    assertEquals(
        List.of(name + " is up", name + " was dropped: a fault", name + " is up"), test.news());
  }

  @Test
  void deviceThatTakesNoFramesIsGivenUpAndNeverHoldsUpTheHub() throws Exception {
    plugIn();
    open();
    awaitNews(1);
    cable.freeze();

    test.hub().sendAll(Frames.numbered(1, 0, 2 * SerialLink.QUEUE_FRAMES_MAX));
    test.settle();

    awaitNews(2);
    assertEquals(
        name + " was dropped: it takes no frames, and 4096 wait for it", test.news().get(1));
    awaitNews(3);
    assertEquals(name + " is up", test.news().get(2));
  }

  /** A flood waits in the device while the hub is busy, and not in memory. */
  @Test
  void floodPilesUpNowhere() throws Exception {
    plugIn();
    open();
    awaitNews(1);
    CountDownLatch letGo = new CountDownLatch(1);
    test.loop().execute(() -> awaitQuietly(letGo));
    Thread flood = new Thread(() -> sayQuietly(Frames.numbered(1, 0, FLOOD)), "flood");
    flood.start();

    await().atMost(PATIENCE).until(() -> waitsForTheHub() || framesIn() == FLOOD);
    long framesInMost = SerialLink.QUEUE_FRAMES_MAX + SerialLink.PIECE_BYTES / FRAME_BYTES_LEAST;
    assertTrue(framesIn() <= framesInMost, framesIn() + " frames wait in memory");

    letGo.countDown();
    flood.join();
    awaitFrames(FLOOD);
    assertEquals(Frames.numbered(1, 0, FLOOD), test.frames());
  }

  private long framesIn() {
    return adapter.traffic().framesIn();
  }

  private boolean waitsForTheHub() {
    return Thread.getAllStackTraces().entrySet().stream()
        .filter(thread -> thread.getKey().getName().equals("read " + near))
        .flatMap(thread -> Stream.of(thread.getValue()))
        .anyMatch(call -> call.getClassName().equals(Semaphore.class.getName()));
  }

  private static void awaitQuietly(CountDownLatch latch) {
    try {
      assertTrue(latch.await(PATIENCE.toSeconds(), TimeUnit.SECONDS));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void sayQuietly(List<CanFrame> frames) {
    try {
      say(frames.stream().map(FrameText::encode).collect(Collectors.joining()));
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  @Test
  void deviceThatIsNotThereIsOneLogLineUntilItComes() throws Exception {
    try (LogOf log = LogOf.connection(name)) {
      open();
      awaitNews(1);
      plugIn();
      awaitNews(2);
      say(FrameText.encode(Frames.LAST));
      awaitFrames(1);
      String missing = name + " does not answer: no such device";
      assertEquals(List.of(missing, name + " is up"), test.news().subList(0, 2));
      assertEquals(List.of("WARN " + missing, "INFO " + name + " is up"), firstTwo(log));
    }
  }

  private static List<String> firstTwo(LogOf log) {
    return log.lines().subList(0, 2);
  }

  @Test
  void fileThatIsNoSerialDeviceIsToldInAnOwnersWords() throws Exception {
    Files.createFile(near);

    open();

    awaitNews(1);
    assertEquals(name + " cannot be opened: this is no serial device", test.news().get(0));
  }

  @Test
  void deviceInUseIsToldInAnOwnersWords() throws Exception {
    plugIn();
    try (HubUnderTest other = new HubUnderTest()) {
      open();
      awaitNews(1);
      SerialAdapter second = SerialAdapter.open(other.hub(), near.toString(), RATE, SOON);
      await().atMost(PATIENCE).until(() -> other.news().size() == 1);
      second.close();

      String line = other.news().get(0);
      assertTrue(line.startsWith(name + " cannot be opened: "), line);
      assertTrue(line.endsWith("another program uses it"), line);
    }
  }

  @Test
  void closedAdapterFreesTheDevice() throws Exception {
    plugIn();
    open();
    awaitNews(1);
    adapter.close();
    awaitNews(2);
    await().atMost(PATIENCE).until(() -> threads().isEmpty());
    assertEquals(List.of(name + " is up", name + " was closed"), test.news());

    open();
    awaitNews(3);
    assertEquals(name + " is up", test.news().get(2));
  }

  @Test
  void rateThatCannotBeIsRefused() {
    assertThrows(
        IllegalArgumentException.class,
        () -> SerialAdapter.open(test.hub(), near.toString(), 0, BackOff.USUAL));
  }

  private void plugIn() throws IOException {
    cable = PseudoTerminal.plug(near, far);
  }

  private void pullOut() {
    cable.close();
  }

  private void open() {
    adapter = SerialAdapter.open(test.hub(), near.toString(), RATE, SOON);
  }

  /** Says bytes at the far end of the cable. */
  private void say(String text) throws Exception {
    try (OutputStream out = Files.newOutputStream(far)) {
      out.write(text.getBytes(StandardCharsets.US_ASCII));
    }
  }

  private void awaitNews(int lines) {
    await().atMost(PATIENCE).until(() -> test.news().size() >= lines);
  }

  private void awaitFrames(int frames) {
    await().atMost(PATIENCE).until(() -> test.frames().size() >= frames);
  }
}
