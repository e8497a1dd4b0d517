package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.lcc.NodeId;
import tappet.sentence.Command;
import tappet.simulator.TrainSpec;

/** Lamps, from the rule to what an engineer reads, and back from a burnt-out lamp to the rule. */
class SignalLampsTest {

  private static final Duration A_WHILE = Duration.ofMinutes(2);
  private static final NodeId POST = NodeId.of("0A.00.00.00.00.03");
  @TempDir Path folder;

  private static final TrainSpec EXTRA =
      RailroadUnderTest.train("Extra 3", "s0", Command.Heading.EAST, 0.5);

  private static RailroadUnderTest ready(TrainSpec... trains) {
    var railroad = RailroadUnderTest.railroad(Path.of("src", "test", "resources", "lamps"));
    RailroadUnderTest line = RailroadUnderTest.switchedOn(railroad, trains);
    line.passTime(Duration.ofSeconds(12));
    return line;
  }

  private static RailroadUnderTest lined(TrainSpec... trains) {
    RailroadUnderTest line = ready(trains);
    line.tell("line a3 to end");
    line.tell("line a2 to a3");
    line.passTime(Duration.ofSeconds(4));
    return line;
  }

  // The board cannot flash: the daemon lights and darkens, and a train reads a flashing light.
  @Test
  void daemonFlashesALampWhoseBoardCannot() {
    RailroadUnderTest line = lined();
    for (int tenth = 0; tenth < 100; tenth++) {
      assertEquals("advance-approach", line.aspect("a2"));
      line.passTime(Duration.ofMillis(100));
    }
    line.tell("cancel a3");
    line.passTime(Duration.ofSeconds(4));
    assertEquals("approach", line.aspect("a2"));
    int before = line.record().size();
    line.passTime(Duration.ofSeconds(30));
    assertFalse(
        line.record().subList(before, line.record().size()).stream()
            .anyMatch(heard -> heard.contains("0A00000000030200")),
        "steady again");
  }

  // 49 CFR 236.23, H.15: what the lamp proving says is what the dispatcher sees and trains obey.
  @Test
  void burntOutLampPutsTheSignalToStopUntilItIsMendedAndLined() {
    RailroadUnderTest line = lined();
    line.railway.failLamp("a2", "yellow");
    line.carry();
    assertEquals("stop", line.aspect("a2"));
    assertEquals("stop", line.aspect("r1"));
    assertTrue(line.box.alarms().contains("yellow lamp of signal a2 has failed"));
    assertTrue(line.why("a2").contains("yellow lamp of signal a2 has failed"), line.why("a2"));
    line.railway.mendLamp("a2", "yellow");
    line.carry();
    assertEquals("stop", line.aspect("a2"), "nothing clears by itself");
    line.tell("line a2 to a3");
    line.passTime(Duration.ofSeconds(4));
    assertEquals("advance-approach", line.aspect("a2"));
  }

  // A red lamp that is out leaves the signal dark, which is read as Stop.
  @Test
  void signalWithoutItsRedIsDarkAndStopsTrains() {
    RailroadUnderTest line = ready(EXTRA);
    line.railway.failLamp("a2", "red");
    line.carry();
    assertEquals("dark", line.railway.aspect("a2"));
    line.tell("run 'Extra 3'");
    line.passUntil(A_WHILE, "the train waits", () -> line.waitsAt("Extra 3", "a2"));
    line.tell("line a2 to a3");
    line.passUntil(A_WHILE, "the train goes on", () -> line.waitsAt("Extra 3", "a3"));
    assertEquals(List.of(), line.railway.mishaps());
  }

  // H.16: dark until a train comes is not Stop: the signal behind goes by what it means.
  @Test
  void darkSignalKeepsItsMeaningAndIsLitForATrain() {
    RailroadUnderTest line = lined();
    assertEquals("dark", line.railway.aspect("a3"));
    assertEquals("approach", line.interlocking.aspect("a3"));
    assertEquals("advance-approach", line.aspect("a2"));
    assertTrue(line.why("a3").contains("is dark until a train comes"), line.why("a3"));
    line.railway.forceSection("s2", true);
    line.carry();
    assertEquals("approach", line.aspect("a3"));
    line.railway.unforce("s2");
    line.passTime(Duration.ofSeconds(4));
    assertEquals("dark", line.railway.aspect("a3"));
  }

  // 49 CFR 236.5, as far as the boards: each lamp of its own is put out by its board, but red.
  @Test
  void boardOfSingleLampsShowsRedWhenItMissesTheHeartbeat() throws IOException {
    RailroadUnderTest line = watched();
    line.passTime(Duration.ofSeconds(12));
    line.tell("line a3 to end");
    line.tell("line a2 to a3");
    line.passTime(Duration.ofSeconds(4));
    assertEquals("advance-approach", line.aspect("a2"));
    line.runDaemon(false);
    for (int tenth = 0; tenth < 100; tenth++) {
      line.passTime(Duration.ofMillis(100));
      assertTrue(
          tenth < 30 || line.railway.aspect("a2").equals("stop"), "dark is no better than red");
    }
    assertEquals("stop", line.railway.aspect("a3"));
    assertEquals("stop", line.railway.aspect("r1"));

    line.runDaemon(true);
    line.passTime(Duration.ofSeconds(20));
    assertEquals("stop", line.railway.aspect("a2"), "nothing clears by itself");
    line.tell("line a2 to a3");
    line.passTime(Duration.ofSeconds(4));
    assertEquals("approach", line.railway.aspect("a2"));
  }

  private RailroadUnderTest watched() throws IOException {
    Path lamps = Path.of("src", "test", "resources", "lamps");
    Files.writeString(
        folder.resolve("layout.yaml"),
        Files.readString(lamps.resolve("layout.yaml"))
            + "heartbeat: {event: 0A.57.00.00.00.01.00.01, every: 1 s, lost after: 3 s}\n");
    Files.copy(lamps.resolve("rules.yaml"), folder.resolve("rules.yaml"));
    return RailroadUnderTest.switchedOn(RailroadUnderTest.railroad(folder));
  }

  // 49 CFR 236.5: what is not known of the approach lights the signal.
  @Test
  void signalIsLitWhereNothingIsKnownOfItsApproach() {
    RailroadUnderTest line = ready();
    line.pullCable();
    assertFalse(line.interlocking.dark("a3"));
    line.plugCableIn();
    line.passTime(Duration.ofSeconds(8));
    assertTrue(line.interlocking.dark("a3"));
  }

  // 49 CFR 236.5: lamps of a board that is lost are not known to work.
  @Test
  void lostBoardTakesItsSignalDown() {
    RailroadUnderTest line = lined();
    line.railway.silence(POST);
    line.passUntil(
        Duration.ofMinutes(3),
        "the board is missed",
        () -> line.interlocking.aspect("a2").equals("stop"));
    assertTrue(line.why("a2").contains("yellow lamp of signal a2 has not reported"));
    line.railway.restore(POST);
    line.passTime(Duration.ofSeconds(90));
    line.tell("line a2 to a3");
    line.passTime(Duration.ofSeconds(4));
    assertEquals("advance-approach", line.aspect("a2"));
  }

  @Test
  void trainRunsByLampsRepeaterAndLitSignal() {
    RailroadUnderTest line = lined(EXTRA);
    line.tell("run 'Extra 3'");
    line.passUntil(A_WHILE, "the end", () -> line.isAtEndOfTrack("Extra 3"));
    assertEquals(List.of(), line.railway.mishaps());
    assertTrue(line.told().contains("signal a3 shows stop-and-proceed"), line.told());
  }
}
