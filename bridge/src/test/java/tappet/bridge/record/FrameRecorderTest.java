package tappet.bridge.record;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.adapter.LocalConnection;
import tappet.bridge.hub.HubUnderTest;
import tappet.lcc.CanFrame;

/**
 * Recording to real files and playing them back. Common practice unless a line says more. A machine
 * without can-utils fails the test (Debian: {@code apt install can-utils}).
 */
class FrameRecorderTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final int ODD_FRAMES = 500;
  private static final int MESSAGE = 0x18000000;

  @TempDir private Path folder;
  private final HubUnderTest test = new HubUnderTest();

  @AfterEach
  void close() {
    test.close();
  }

  @Test
  void everyFrameIsWrittenInOrderTheDaemonsOnesToo() throws Exception {
    Path path = folder.resolve("bus.log");
    FrameRecorder recorder = FrameRecorder.start(test.hub(), path, "can0");
    LocalConnection west = LocalConnection.attach(test.hub(), "west", frame -> {});
    west.tellAll(frames(0, 1_000));
    test.hub().sendAll(frames(1_000, 2_000));
    test.settle();
    recorder.close();
    assertEquals(0, recorder.lost());

    assertEquals(frames(0, 2_000), framesOf(path));
    List<Long> timesUs = logged(path).stream().map(LoggedFrame::timeUs).toList();
    assertEquals(timesUs.stream().sorted().toList(), timesUs);
  }

  @Test
  void canUtilsReadWhatIsWritten() throws Exception {
    Path path = folder.resolve("bus.log");
    List<CanFrame> said = oddFrames();
    record(path, said);

    List<String> lines = log2asc(path);

    List<String> expected = said.stream().map(FrameRecorderTest::ascLine).toList();
    List<String> read =
        lines.stream()
            .filter(line -> line.contains(" Rx ") || line.contains(" Tx "))
            .map(line -> line.strip().replaceAll("\\s+", " ").replaceFirst("^\\S+ ", ""))
            .toList();
    assertEquals(expected, read, () -> String.join("\n", lines.subList(0, 8)));
  }

  private static String ascLine(CanFrame frame) {
    StringBuilder line =
        new StringBuilder("1 %Xx Rx d %d".formatted(frame.header(), frame.length()));
    for (int index = 0; index < frame.length(); index++) {
      line.append(" %02X".formatted(frame.dataByte(index)));
    }
    return line.toString();
  }

  private List<String> log2asc(Path log) throws Exception {
    Path out = folder.resolve("bus.asc");
    Process tool =
        new ProcessBuilder("log2asc", "-I", log.toString(), "-O", out.toString(), "can0")
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    assertTrue(tool.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS), "log2asc does not end");
    assertEquals(0, tool.exitValue());
    return Files.readAllLines(out);
  }

  @Test
  void recordingGoesOnAtTheEndOfAnOlderOneAndHalfALineIsTakenBack() throws Exception {
    Path path = folder.resolve("bus.log");
    Files.writeString(path, "(0000000001.000000) can0 195B4573#00000000\n(0000000002.0000");

    record(path, frames(1, 2));

    assertEquals(frames(0, 2), framesOf(path));
    assertEquals(2, Files.readAllLines(path).size());
  }

  @Test
  void fullDiskIsToldOnceAndRecordingGoesOnWhenThereIsRoom() throws Exception {
    Path path = Files.createSymbolicLink(folder.resolve("bus.log"), Path.of("/dev/full"));
    FrameRecorder recorder = FrameRecorder.start(test.hub(), path, "can0", Duration.ofMillis(20));
    test.hub().sendAll(frames(0, 10));
    await().atMost(PATIENCE).until(() -> recorder.lost() == 10);
    test.hub().sendAll(frames(0, 10));
    await().atMost(PATIENCE).until(() -> recorder.lost() == 20);
    Files.delete(path);
    test.hub().sendAll(frames(10, 20));
    await().atMost(PATIENCE).until(() -> Files.exists(path) && Files.size(path) > 0);
    recorder.close();

    assertEquals(frames(10, 20), framesOf(path));
    assertEquals(
        List.of(
            "recording " + path + " is up",
            "recording " + path + " cannot be written, frames are lost: No space left on device",
            "recording " + path + " was closed"),
        newsAfterClose());
  }

  private List<String> newsAfterClose() {
    test.settle();
    return test.news();
  }

  @Test
  void floodNeverHoldsUpTheHubAndWhatIsLostIsCounted() throws Exception {
    Path path = folder.resolve("bus.log");
    int flood = 20 * FrameRecorder.QUEUE_FRAMES_MAX;
    FrameRecorder recorder = FrameRecorder.start(test.hub(), path, "can0");
    for (int from = 0; from < flood; from += 4096) {
      test.hub().sendAll(frames(from, from + 4096));
    }
    test.settle();
    recorder.close();

    assertEquals(flood, recorder.traffic().framesOut());
    assertEquals(flood - recorder.lost(), Files.readAllLines(path).size());
  }

  @Test
  void fileThatCannotBeMadeIsAClearError() {
    Path path = folder.resolve("nowhere/bus.log");

    assertThrows(IOException.class, () -> FrameRecorder.start(test.hub(), path, "can0"));
    assertThrows(
        IllegalArgumentException.class,
        () -> FrameRecorder.start(test.hub(), folder.resolve("bus.log"), "can 0"));
  }

  @Test
  void recordingPlayedGivesTheSameFramesAtTheSameTimes() throws Exception {
    Path path = folder.resolve("bus.log");
    Files.writeString(
        path,
        """
        (0000000010.000000) can0 195B4573#00000000
        (0000000010.000000) can0 195B4573#00000001
        a remark

        (0000000010.250000) can0 123#00
        (0000000011.500000) can0 195B4573#00000002
        (0000000011.000000) can0 195B4573#00000003
        """);
    List<Long> awaitedUs = new ArrayList<>();

    FramePlayer.Played played =
        FramePlayer.start(test.hub(), path, awaitedUs::add).end().get(30, TimeUnit.SECONDS);

    assertEquals(new FramePlayer.Played(4, 2), played);
    assertEquals(frames(0, 4), test.frames());
    assertEquals(List.of(1_500_000L), awaitedUs);
  }

  @Test
  void realTimeIsKeptAndMayBeSped() throws Exception {
    Path path = folder.resolve("bus.log");
    Files.writeString(
        path,
        """
        (0000000010.000000) can0 195B4573#00000000
        (0000000014.000000) can0 195B4573#00000001
        """);
    long startNs = System.nanoTime();

    FramePlayer.start(test.hub(), path, Pace.realTime(10)).end().get(30, TimeUnit.SECONDS);

    assertTrue(System.nanoTime() - startNs >= 400_000_000L);
    assertThrows(IllegalArgumentException.class, () -> Pace.realTime(0));
  }

  @Test
  void whatWasRecordedPlaysBackTheSame() throws Exception {
    Path path = folder.resolve("bus.log");
    record(path, oddFrames());

    FramePlayer.start(test.hub(), path, Pace.atOnce()).end().get(30, TimeUnit.SECONDS);

    assertEquals(oddFrames(), test.frames());
  }

  @Test
  void playingCanBeEndedInTheMiddle() throws Exception {
    Path path = folder.resolve("bus.log");
    Files.writeString(
        path,
        """
        (0000000010.000000) can0 195B4573#00000000
        (0000099999.000000) can0 195B4573#00000001
        """);
    FramePlayer player = FramePlayer.start(test.hub(), path, Pace.realTime(1));
    await().atMost(PATIENCE).until(() -> test.frames().size() == 1);

    player.close();

    await().atMost(PATIENCE).until(() -> test.hub().connections().isEmpty());
    assertTrue(player.end().isCompletedExceptionally());
  }

  /** Messages of every length, with random headers and data; seed 21. */
  private static List<CanFrame> oddFrames() {
    Random random = new Random(21);
    return IntStream.range(0, ODD_FRAMES)
        .mapToObj(
            number -> {
              int length = number % 9;
              long data = length == 0 ? 0 : random.nextLong() >>> (64 - 8 * length);
              return CanFrame.of(MESSAGE | random.nextInt(0x8000000), length, data);
            })
        .toList();
  }

  private static List<CanFrame> frames(int from, int to) {
    return IntStream.range(from, to)
        .mapToObj(number -> CanFrame.of(0x195B4573, 4, number))
        .toList();
  }

  private static List<LoggedFrame> logged(Path path) throws IOException {
    return Files.readAllLines(path).stream()
        .map(line -> FrameLogText.read(line).orElseThrow(() -> new AssertionError(line)))
        .toList();
  }

  private static List<CanFrame> framesOf(Path path) throws IOException {
    return logged(path).stream().map(LoggedFrame::frame).toList();
  }

  private void record(Path path, List<CanFrame> frames) throws IOException {
    FrameRecorder recorder = FrameRecorder.start(test.hub(), path, "can0");
    test.hub().sendAll(frames);
    test.settle();
    recorder.close();
  }
}
