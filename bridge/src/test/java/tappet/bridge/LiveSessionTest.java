package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.awaitility.core.ConditionTimeoutException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.box.Tempo;
import tappet.bridge.session.SessionPlan;
import tappet.sentence.Condition.Occupancy;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * A session in the running daemon, as fast as that may be. Where the machine is too busy for that,
 * the box puts its signals to Stop now and then, and the train has to wait.
 */
class LiveSessionTest {

  private static final String TRAINS =
      """
      session: A quick train
      clock: {rate: 60, time: 06:00}
      trains:
        - {train: Quick, length: 0.3 m, speed: 2, from: fallow-1, to: tilling-main, at: 06:00}
      """;

  @TempDir private Path folder;

  @BeforeEach
  void writeFiles() throws IOException {
    QuickLine.write(folder);
    QuickLine.settings(folder, "[simulator: {trains: []}]");
  }

  @Test
  void trainIsPutOnTheTrackAndSentToItsEndThroughTheBox() throws IOException {
    Files.writeString(folder.resolve("session.yaml"), TRAINS);
    Problems problems = new Problems();
    OwnerFiles files = new OwnerFiles(problems);
    Settings settings = files.settings(folder.resolve("tappet.yaml")).orElseThrow();
    OwnerFiles.Railroad railroad = QuickLine.read(folder);
    SessionPlan plan =
        new SessionFiles(problems).plan(railroad, folder.resolve("session.yaml")).orElseThrow();
    Charted charted = QuickLine.charted(railroad);
    try (Daemon daemon =
        Daemon.start(settings.at(Tempo.times(2)).forSession(plan.clock()), charted)) {
      daemon.hold(plan, 1);
      awaitArrival(daemon);
      assertEquals(Occupancy.CLEAR, occupancy(daemon, "fallow-1"), "it has left its beginning");
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  private static void awaitArrival(Daemon daemon) throws Exception {
    try {
      await()
          .atMost(JavaProcess.PATIENCE.multipliedBy(2))
          .until(() -> occupancy(daemon, "tilling-main") == Occupancy.OCCUPIED);
    } catch (ConditionTimeoutException e) {
      throw new AssertionError("it has not arrived: " + standing(daemon), e);
    }
  }

  /** What stands in its way. */
  private static String standing(Daemon daemon) throws Exception {
    return daemon
        .box()
        .ask(
            (box, nowNs) ->
                box.alarms()
                    + box.interlocking().layout().signals().keySet().stream()
                        .flatMap(signal -> box.why(signal, nowNs).stream())
                        .map(why -> "\n" + why.text())
                        .collect(Collectors.joining()))
        .get(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS);
  }

  private static Occupancy occupancy(Daemon daemon, String section) throws Exception {
    return daemon
        .box()
        .ask((box, nowNs) -> box.interlocking().occupancy(section))
        .get(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS);
  }

  /** The settings' own trains would stand in the way. */
  @Test
  void sessionBeginsOnAnEmptyTrackAndByItsOwnClock() throws IOException {
    QuickLine.settings(
        folder,
        "[simulator: {trains: [{train: Extra 41, on: fallow-1, heading: east, length: 1 m}]}]");
    Files.writeString(folder.resolve("session.yaml"), TRAINS);
    Problems problems = new Problems();
    Settings settings =
        new OwnerFiles(problems).settings(folder.resolve("tappet.yaml")).orElseThrow();
    SessionPlan plan =
        new SessionFiles(problems)
            .plan(QuickLine.read(folder), folder.resolve("session.yaml"))
            .orElseThrow();
    Settings held = settings.forSession(plan.clock());
    assertEquals(List.of(), problems.sorted().stream().map(Problem::toString).toList());
    assertTrue(settings.simulates() && held.simulates());
    assertEquals(List.of(new Settings.Simulator(List.of())), held.ways());
    assertEquals(plan.clock(), held.clock());
  }

  /** Boards keep real time, and so does whoever joins by wire. */
  @Test
  void onlyWhatIsAllSimulatedRunsFaster() throws IOException {
    QuickLine.settings(folder, "[simulator: {trains: []}, tcp: 127.0.0.1:1]");
    Console told =
        Console.run("demo", "--speed", "30", "--config", folder.resolve("tappet.yaml").toString());
    assertEquals(1, told.status());
    assertTrue(told.err().contains("leave out --speed, or every connection but"), told.err());
  }

  @ParameterizedTest
  @ValueSource(strings = {"0", "61"})
  void speedHasItsBounds(String speed) {
    Console told = Console.run("demo", "--speed", speed);
    assertEquals(2, told.status());
    assertTrue(told.err().contains("1 to 60 times as fast, not " + speed), told.err());
  }

  @Test
  void demoDoesNotBeginWithAListThatHasAMistake() throws IOException {
    Files.writeString(folder.resolve("session.yaml"), TRAINS.replace("fallow-1", "fallow-3"));
    Console told =
        Console.run("demo", "--session", "--config", folder.resolve("tappet.yaml").toString());
    assertEquals(1, told.status());
    assertTrue(told.err().contains("this layout has no section 'fallow-3'"), told.err());
  }
}
