package tappet.bridge.record;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.hub.HubUnderTest;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.interlocking.Answer;
import tappet.lcc.AliasSeed;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.network.Explanation;
import tappet.source.Problems;

/**
 * Recording to real files and playing them back. Common practice unless a line says more. A machine
 * without can-utils fails the test (Debian: {@code apt install can-utils}).
 */
class SessionRecorderTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final int ODD_FRAMES = 500;
  private static final int MESSAGE = 0x18000000;
  private static final Optional<LocalDateTime> AT =
      Optional.of(LocalDateTime.of(2026, 11, 26, 8, 12, 45));
  static final Item.Started BEGIN =
      new Item.Started(
          "0.1",
          "Somewhere",
          NodeId.of("0A.57.00.00.00.01"),
          new AliasSeed(0x123),
          new ClockPlan.Run(FastClock.FAST, new Rate(16), new Time(6, 30)),
          "check.sum=1\n");

  @TempDir private Path folder;
  private final HubUnderTest test = new HubUnderTest();

  @AfterEach
  void close() {
    test.close();
  }

  @Test
  void everythingIsWrittenInTheBoxsOrderWithTheBoxsTimes() throws Exception {
    Path path = folder.resolve("bus.log");
    SessionRecorder recorder = open(path);
    recorder.started(5_000);
    recorder.connectionUp("west", true, 6_000);
    recorder.frameHeard("west", frames(0, 1).get(0), 7_000);
    recorder.frameHeard("west", frames(1, 2).get(0), 8_000);
    recorder.frameSent(frames(2, 3).get(0), 8_000);
    recorder.frameHeard("east", frames(3, 4).get(0), 9_000);
    long number = recorder.told("the desk", AT, "line t2e to t4e", 10_000);
    recorder.answered(number, new Answer(false, Explanation.fact("\"no\" way\nat all")));
    recorder.kept(Optional.of("the disk is full"), 11_000);
    recorder.connectionDown("east", "was closed", false, 12_000);
    recorder.overheard("east", 12_000);
    recorder.inputLost(13_000);
    recorder.exchanged("0123abcd", 13_500);
    recorder.stopped(14_000);
    recorder.close();
    assertEquals(0, recorder.lost());

    Session session = read(path).sessions().get(0);
    assertEquals(Optional.of(BEGIN), session.start());
    List<Item> items = session.entries().stream().map(Entry::item).toList();
    Item.Told told = (Item.Told) items.get(8);
    assertEquals("line t2e to t4e", told.sentence());
    assertEquals("the desk", told.who());
    assertEquals(AT, told.at());
    assertEquals(
        List.of(
            BEGIN,
            new Item.Up("west", true),
            new Item.From("west"),
            new Item.Heard(frames(0, 1).get(0)),
            new Item.Heard(frames(1, 2).get(0)),
            new Item.Sent(frames(2, 3).get(0)),
            new Item.From("east"),
            new Item.Heard(frames(3, 4).get(0)),
            told,
            new Item.Answered(number, false, "\"no\" way\nat all\n"),
            new Item.Kept(Optional.of("the disk is full")),
            new Item.Down("east", "was closed", false),
            new Item.Overheard("east"),
            new Item.InputLost(),
            new Item.Exchanged("0123abcd"),
            new Item.Ended()),
        items);
    assertEquals(
        List.of(0L, 1L, 2L, 2L, 3L, 3L, 4L, 4L, 5L, 5L, 6L, 7L, 7L, 8L, 8L, 9L),
        session.entries().stream().map(entry -> entry.timeUs() - session.beganUs()).toList());
  }

  @Test
  void canUtilsReadWhatIsWritten() throws Exception {
    Path path = folder.resolve("bus.log");
    List<CanFrame> said = oddFrames();
    SessionRecorder recorder = open(path);
    recorder.started(0);
    recorder.told("the desk", AT, "grant permit to '" + "ü€🚂".repeat(2_000) + "' on mid-east", 0);
    said.forEach(frame -> recorder.frameHeard("hub", frame, 0));
    recorder.close();

    List<String> lines = log2asc(path);

    List<String> expected = said.stream().map(SessionRecorderTest::ascLine).toList();
    List<String> read =
        lines.stream()
            .filter(line -> line.contains(" Rx ") || line.contains(" Tx "))
            .map(line -> line.strip().replaceAll("\\s+", " ").replaceFirst("^\\S+ ", ""))
            .toList();
    assertEquals(expected, read, () -> String.join("\n", lines.subList(0, 8)));
    assertTrue(
        read(path).sessions().get(0).entries().stream()
            .anyMatch(
                entry ->
                    entry.item() instanceof Item.Told told
                        && told.sentence().contains("ü€🚂".repeat(2_000))));
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
    Recording recording = read(path);
    assertEquals(2, recording.sessions().size());
    assertEquals(Optional.empty(), recording.sessions().get(0).start());
    assertEquals(Optional.of(BEGIN), recording.sessions().get(1).start());
  }

  @Test
  void fullDiskIsToldOnceAndRecordingGoesOnWhenThereIsRoomAndSaysWhatIsMissing() throws Exception {
    Path path = Files.createSymbolicLink(folder.resolve("bus.log"), Path.of("/dev/full"));
    List<String> troubles = new CopyOnWriteArrayList<>();
    SessionRecorder recorder =
        SessionRecorder.open(path, "can0", BEGIN, troubles::add, Duration.ofMillis(20));
    tell(recorder, frames(0, 10));
    await().atMost(PATIENCE).until(() -> recorder.lost() == 11);
    tell(recorder, frames(0, 10));
    await().atMost(PATIENCE).until(() -> recorder.lost() == 21);
    Files.delete(path);
    tell(recorder, frames(10, 20));
    await().atMost(PATIENCE).until(() -> Files.exists(path) && Files.size(path) > 0);
    recorder.close();

    assertEquals(frames(10, 20), framesOf(path));
    assertEquals(new Item.Missing(21), read(path).sessions().get(0).entries().get(0).item());
    assertEquals(
        List.of(
            "cannot be written: No space left on device; what happens now is lost to it, the"
                + " interlocking goes on"),
        troubles);
  }

  @Test
  void floodNeverHoldsUpTheBoxAndWhatIsLostIsCountedInTheRecordingToo() throws Exception {
    Path path = folder.resolve("bus.log");
    int flood = 20 * SessionRecorder.QUEUE_MAX;
    SessionRecorder recorder = open(path);
    recorder.started(0);
    CanFrame frame = frames(0, 1).get(0);
    for (int count = 0; count < flood; count++) {
      recorder.frameSent(frame, 0);
    }
    await()
        .atMost(PATIENCE)
        .until(
            () -> {
              recorder.frameSent(frame, 0);
              return Files.size(path) > 0 && recorder.lost() >= 0;
            });
    recorder.close();

    List<Entry> entries = read(path).sessions().get(0).entries();
    long missing =
        entries.stream()
            .map(Entry::item)
            .filter(Item.Missing.class::isInstance)
            .mapToLong(item -> ((Item.Missing) item).count())
            .sum();
    assertTrue(missing <= recorder.lost() && recorder.lost() > 0, missing + " " + recorder.lost());
    assertTrue(framesOf(path).size() + recorder.lost() >= flood);
  }

  @Test
  void fileThatCannotBeMadeIsAClearError() {
    assertThrows(IOException.class, () -> open(folder.resolve("nowhere/bus.log")));
    assertThrows(
        IllegalArgumentException.class,
        () -> SessionRecorder.open(folder.resolve("bus.log"), "can 0", BEGIN, what -> {}));
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
        .filter(line -> !line.startsWith("#"))
        .map(line -> FrameLogText.read(line).orElseThrow(() -> new AssertionError(line)))
        .toList();
  }

  private static List<CanFrame> framesOf(Path path) throws IOException {
    return logged(path).stream().map(LoggedFrame::frame).toList();
  }

  private static SessionRecorder open(Path path) throws IOException {
    return SessionRecorder.open(path, "can0", BEGIN, what -> {});
  }

  private static void tell(SessionRecorder recorder, List<CanFrame> frames) {
    if (recorder.lost() == 0) {
      recorder.started(0);
    }
    frames.forEach(frame -> recorder.frameSent(frame, 0));
  }

  private static Recording read(Path path) {
    Problems problems = new Problems();
    return RecordingReader.read(path, problems)
        .orElseThrow(() -> new AssertionError(problems.sorted()));
  }

  private static void record(Path path, List<CanFrame> frames) throws IOException {
    SessionRecorder recorder = open(path);
    recorder.started(0);
    frames.forEach(frame -> recorder.frameSent(frame, 0));
    recorder.close();
  }
}
