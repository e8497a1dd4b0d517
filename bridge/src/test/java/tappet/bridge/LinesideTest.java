package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.bridge.field.Field;
import tappet.layout.LinesideDevice;
import tappet.layout.Position;
import tappet.lcc.NodeId;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainSpec;
import tappet.source.Problems;

/**
 * Devices besides sections, switches and signals, through frames to the simulated railway and back.
 */
class LinesideTest {

  private static final NodeId FASCIA = NodeId.of("0A.57.00.00.23.00");
  private static final NodeId CROSSING = NodeId.of("0A.57.00.00.25.00");
  private static final TrainSpec LOCAL =
      Rehearsal.train("Lane Local", "west-far", Heading.EAST, 0.6);

  // S-9.7.3.1: the node says truly what it listens to and what it can say.
  @Test
  void everyEventOfADeviceIsConsumedOrProduced() {
    var layout = lane().layout();
    var field = new Field(layout);
    for (LinesideDevice device : layout.lineside().devices()) {
      assertTrue(field.consumed().containsAll(device.tells().values()), device.key());
      assertTrue(field.produced().containsAll(device.told().values()), device.key());
    }
  }

  // S13, H.8.
  @Test
  void breakerThatTripsStopsEverythingUntilItIsAskedForAgain() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.tell("line e2w to a");
    rehearsal.passTime(Duration.ofSeconds(1));
    assertEquals("approach", rehearsal.aspect("e2w"));
    rehearsal.railway.tripBreaker("west");
    rehearsal.carry();
    assertEquals("stop", rehearsal.aspect("e2w"));
    assertEquals(
        List.of("power district west (West end) is tripped; unknown: sections west-far, west-near"),
        rehearsal.box.alarms());
    rehearsal.passTime(Duration.ofSeconds(20));
    assertTrue(rehearsal.why("west-near").startsWith("section west-near is unknown"));

    rehearsal.railway.restoreBreaker("west");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(4));
    assertEquals(List.of(), rehearsal.box.alarms());
    assertEquals("section west-near is clear\n", clause(rehearsal.why("west-near")));
    assertEquals("stop", rehearsal.aspect("e2w"), "nothing clears by itself");
    rehearsal.tell("line e2w to a");
    assertEquals("approach", rehearsal.aspect("e2w"));
  }

  @Test
  void trainWithoutPowerStandsAndIsNotForgotten() {
    var rehearsal = Rehearsal.ready(lane(), LOCAL);
    rehearsal.tell("run 'Lane Local'");
    rehearsal.passTime(Duration.ofSeconds(3));
    rehearsal.railway.tripBreaker("west");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(20));
    assertEquals(0.0, rehearsal.train("Lane Local").speedMetresPerSecond());
    assertFalse(rehearsal.refused("line e2w to a").isEmpty());
    rehearsal.railway.restoreBreaker("west");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(4));
    assertTrue(rehearsal.refused("line e2w to a").contains("is occupied"));
  }

  // 236.312.
  @Test
  void gateIsUnlockedOpenedClosedAndLockedWithLeave() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.tell("unlock doorway");
    rehearsal.passTime(Duration.ofSeconds(3));
    assertEquals(Optional.of(Position.REVERSE), rehearsal.railway.boltLies("doorway"));
    rehearsal.railway.open("doorway");
    rehearsal.carry();
    assertEquals(List.of(), rehearsal.box.alarms());
    assertTrue(rehearsal.refused("line w2e to f").contains("(Doorway, a gate) is open"));
    assertFalse(rehearsal.refused("lock doorway").isEmpty());
    rehearsal.railway.close("doorway");
    rehearsal.carry();
    rehearsal.tell("lock doorway");
    assertFalse(rehearsal.refused("line w2e to f").isEmpty(), "the bolt still moves");
    rehearsal.passTime(Duration.ofSeconds(3));
    rehearsal.tell("line w2e to f");
    assertEquals("approach", rehearsal.aspect("w2e"));
    assertFalse(rehearsal.refused("unlock doorway").isEmpty());
  }

  @Test
  void gateOpenedWithoutLeavePutsTheSignalToStop() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.tell("line w2e to f");
    rehearsal.railway.open("doorway");
    rehearsal.carry();
    assertEquals("stop", rehearsal.aspect("w2e"));
    assertEquals(
        List.of("opening doorway (Doorway, a gate) is open without leave"), rehearsal.box.alarms());
  }

  // 236.11.
  @Test
  void boltThatSticksIsTold() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.railway.failBolt("doorway");
    rehearsal.tell("unlock doorway");
    rehearsal.passTime(Duration.ofSeconds(5));
    assertEquals(
        List.of("the lock of opening doorway (Doorway, a gate) is out of correspondence"),
        rehearsal.box.alarms());
    rehearsal.railway.mendBolt("doorway");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(5));
    assertEquals(List.of(), rehearsal.box.alarms());
  }

  @Test
  void lampsFollowTheirConditionAndAreToldAgainWhenTheirBoardReturns() {
    var rehearsal = Rehearsal.ready(lane());
    assertTrue(rehearsal.railway.isLit("empty"));
    assertFalse(rehearsal.railway.isLit("full"));
    rehearsal.railway.silence(FASCIA);
    rehearsal.railway.forceSection("road", true);
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(12));
    assertFalse(rehearsal.railway.isLit("full"), "nobody has told it");
    assertTrue(rehearsal.box.alarms().get(0).contains("lamp full"), "what the board carries");
    rehearsal.railway.restore(FASCIA);
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(2));
    assertTrue(rehearsal.railway.isLit("full"));
    assertFalse(rehearsal.railway.isLit("empty"));
  }

  @Test
  void buttonAsksOnceAndNeverAgainForAConnectionThatComesBack() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.railway.press("call");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(1));
    assertEquals("approach", rehearsal.aspect("w2e"));
    assertTrue(rehearsal.railway.isLit("granted"));
    rehearsal.passTime(Duration.ofSeconds(3));
    assertFalse(rehearsal.railway.isLit("granted"));
    rehearsal.tell("cancel w2e");

    rehearsal.pullCable();
    rehearsal.plugCableIn();
    rehearsal.passTime(Duration.ofSeconds(20));
    rehearsal.railway.silence(FASCIA);
    rehearsal.passTime(Duration.ofSeconds(12));
    rehearsal.railway.restore(FASCIA);
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(5));
    assertFalse(rehearsal.interlocking.routeLocked("w2e-f"), "it has been held all the time");

    rehearsal.railway.release("call");
    rehearsal.railway.press("call");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(1));
    assertTrue(rehearsal.interlocking.routeLocked("w2e-f"));
  }

  @Test
  void refusedCallIsToldByItsLamp() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.railway.forceSection("road", true);
    rehearsal.railway.press("call");
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(1));
    assertTrue(rehearsal.railway.isLit("refused"));
    assertTrue(
        rehearsal.told().contains("button call (Lane call) asks 'line w2e to f': refused"),
        rehearsal::told);
  }

  // S17; Transport Canada, Grade Crossings Standards, 16.4. Spots: common practice, no source.
  @Test
  void roadIsWarnedOfATrainAndRestsBehindIt() {
    var rehearsal = Rehearsal.ready(lane(), LOCAL);
    rehearsal.tell("line w2e to f");
    rehearsal.passUntil(
        Duration.ofSeconds(15),
        "the road is warned",
        () -> rehearsal.aspect("w2e").equals("approach"));
    assertTrue(rehearsal.railway.isWarning("mill-road"));
    rehearsal.tell("run 'Lane Local'");
    rehearsal.passUntil(
        Duration.ofSeconds(90),
        "the train has come to the road",
        () -> {
          assertTrue(rehearsal.railway.isWarning("mill-road"));
          return rehearsal.railway.occupied().contains("road");
        });
    rehearsal.passUntil(
        Duration.ofSeconds(20),
        "the train has left the road",
        () -> !rehearsal.railway.occupied().contains("road"));
    assertTrue(rehearsal.railway.isWarning("mill-road"));
    rehearsal.passTime(Duration.ofMillis(2100));
    assertFalse(rehearsal.railway.isWarning("mill-road"));
    assertEquals(List.of("east-near"), rehearsal.railway.occupied());
    rehearsal.passUntil(
        Duration.ofSeconds(60), "the end of track", () -> rehearsal.isAtEndOfTrack("Lane Local"));
    assertFalse(rehearsal.railway.isWarning("mill-road"), "it stands where it has gone");
    assertTrue(rehearsal.told().contains("a train passes spot gauge (Loading gauge) eastward"));
    assertTrue(rehearsal.told().contains("a train passes spot bell eastward"));
    assertEquals(List.of(), rehearsal.railway.mishaps());
  }

  @Test
  void crossingIsToldAgainWhenItsBoardReturns() {
    var rehearsal = Rehearsal.ready(lane());
    assertFalse(rehearsal.railway.isWarning("mill-road"));
    rehearsal.railway.silence(CROSSING);
    rehearsal.railway.forceSection("road", true);
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(12));
    rehearsal.railway.restore(CROSSING);
    rehearsal.carry();
    rehearsal.passTime(Duration.ofSeconds(2));
    assertTrue(rehearsal.railway.isWarning("mill-road"));
  }

  @Test
  void roadIsWarnedWhileTheFieldCannotBeHeard() {
    var rehearsal = Rehearsal.ready(lane());
    rehearsal.pullCable();
    rehearsal.plugCableIn();
    assertTrue(rehearsal.railway.isWarning("mill-road"), "nothing is known of the approaches");
    rehearsal.passTime(Duration.ofSeconds(10));
    assertFalse(
        rehearsal.railway.isWarning("mill-road"),
        () -> rehearsal.why("mill-road") + rehearsal.told());
  }

  private static String clause(String why) {
    return why.lines().findFirst().orElseThrow().replace(":", "") + "\n";
  }

  private static OwnerFiles.Railroad lane() {
    var folder = Path.of("src", "test", "resources", "lineside");
    var problems = new Problems();
    var railroad =
        new OwnerFiles(problems)
            .railroad(folder.resolve("layout.yaml"), folder.resolve("rules.yaml"));
    assertEquals(List.of(), problems.sorted());
    return railroad.orElseThrow();
  }
}
