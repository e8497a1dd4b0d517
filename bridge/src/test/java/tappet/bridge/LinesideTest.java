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

/**
 * Devices besides sections, switches and signals, through frames to the simulated railway and back.
 */
class LinesideTest {

  private static final NodeId FASCIA = NodeId.of("0A.57.00.00.23.00");
  private static final NodeId CROSSING = NodeId.of("0A.57.00.00.25.00");
  private static final TrainSpec LOCAL =
      RailroadUnderTest.train("Lane Local", "west-far", Heading.EAST, 0.6);

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
    var railroad = RailroadUnderTest.ready(lane());
    railroad.tell("line e2w to a");
    railroad.passTime(Duration.ofSeconds(1));
    assertEquals("approach", railroad.aspect("e2w"));
    railroad.railway.tripBreaker("west");
    railroad.carry();
    assertEquals("stop", railroad.aspect("e2w"));
    assertEquals(
        List.of("power district west (West end) is tripped; unknown: sections west-far, west-near"),
        railroad.box.alarms());
    railroad.passTime(Duration.ofSeconds(20));
    assertTrue(railroad.why("west-near").startsWith("section west-near is unknown"));

    railroad.railway.restoreBreaker("west");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(4));
    assertEquals(List.of(), railroad.box.alarms());
    assertEquals("section west-near is clear\n", clause(railroad.why("west-near")));
    assertEquals("stop", railroad.aspect("e2w"), "nothing clears by itself");
    railroad.tell("line e2w to a");
    assertEquals("approach", railroad.aspect("e2w"));
  }

  @Test
  void trainWithoutPowerStandsAndIsNotForgotten() {
    var railroad = RailroadUnderTest.ready(lane(), LOCAL);
    railroad.tell("run 'Lane Local'");
    railroad.passTime(Duration.ofSeconds(3));
    railroad.railway.tripBreaker("west");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(20));
    assertEquals(0.0, railroad.train("Lane Local").speedMetresPerSecond());
    assertFalse(railroad.refused("line e2w to a").isEmpty());
    railroad.railway.restoreBreaker("west");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(4));
    assertTrue(railroad.refused("line e2w to a").contains("is occupied"));
  }

  // 236.312.
  @Test
  void gateIsUnlockedOpenedClosedAndLockedWithLeave() {
    var railroad = RailroadUnderTest.ready(lane());
    railroad.tell("unlock doorway");
    railroad.passTime(Duration.ofSeconds(3));
    assertEquals(Optional.of(Position.REVERSE), railroad.railway.boltLies("doorway"));
    railroad.railway.open("doorway");
    railroad.carry();
    assertEquals(List.of(), railroad.box.alarms());
    assertTrue(railroad.refused("line w2e to f").contains("(Doorway, a gate) is open"));
    assertFalse(railroad.refused("lock doorway").isEmpty());
    railroad.railway.close("doorway");
    railroad.carry();
    railroad.tell("lock doorway");
    assertFalse(railroad.refused("line w2e to f").isEmpty(), "the bolt still moves");
    railroad.passTime(Duration.ofSeconds(3));
    railroad.tell("line w2e to f");
    assertEquals("approach", railroad.aspect("w2e"));
    assertFalse(railroad.refused("unlock doorway").isEmpty());
  }

  @Test
  void gateOpenedWithoutLeavePutsTheSignalToStop() {
    var railroad = RailroadUnderTest.ready(lane());
    railroad.tell("line w2e to f");
    railroad.railway.open("doorway");
    railroad.carry();
    assertEquals("stop", railroad.aspect("w2e"));
    assertEquals(
        List.of("opening doorway (Doorway, a gate) is open without leave"), railroad.box.alarms());
  }

  // 236.11.
  @Test
  void boltThatSticksIsTold() {
    var railroad = RailroadUnderTest.ready(lane());
    railroad.railway.failBolt("doorway");
    railroad.tell("unlock doorway");
    railroad.passTime(Duration.ofSeconds(5));
    assertEquals(
        List.of("the lock of opening doorway (Doorway, a gate) is out of correspondence"),
        railroad.box.alarms());
    railroad.railway.mendBolt("doorway");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(5));
    assertEquals(List.of(), railroad.box.alarms());
  }

  @Test
  void lampsFollowTheirConditionAndAreToldAgainWhenTheirBoardReturns() {
    var railroad = RailroadUnderTest.ready(lane());
    assertTrue(railroad.railway.isLit("empty"));
    assertFalse(railroad.railway.isLit("full"));
    railroad.railway.silence(FASCIA);
    railroad.railway.forceSection("road", true);
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(12));
    assertFalse(railroad.railway.isLit("full"), "nobody has told it");
    assertTrue(railroad.box.alarms().get(0).contains("lamp full"), "what the board carries");
    railroad.railway.restore(FASCIA);
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(2));
    assertTrue(railroad.railway.isLit("full"));
    assertFalse(railroad.railway.isLit("empty"));
  }

  @Test
  void buttonAsksOnceAndNeverAgainForAConnectionThatComesBack() {
    var railroad = RailroadUnderTest.ready(lane());
    railroad.railway.press("call");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(1));
    assertEquals("approach", railroad.aspect("w2e"));
    assertTrue(railroad.railway.isLit("granted"));
    railroad.passTime(Duration.ofSeconds(3));
    assertFalse(railroad.railway.isLit("granted"));
    railroad.tell("cancel w2e");

    railroad.pullCable();
    railroad.plugCableIn();
    railroad.passTime(Duration.ofSeconds(20));
    railroad.railway.silence(FASCIA);
    railroad.passTime(Duration.ofSeconds(12));
    railroad.railway.restore(FASCIA);
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(5));
    assertFalse(railroad.interlocking.routeLocked("w2e-f"), "it has been held all the time");

    railroad.railway.release("call");
    railroad.railway.press("call");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(1));
    assertTrue(railroad.interlocking.routeLocked("w2e-f"));
  }

  @Test
  void refusedCallIsToldByItsLamp() {
    var railroad = RailroadUnderTest.ready(lane());
    railroad.railway.forceSection("road", true);
    railroad.railway.press("call");
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(1));
    assertTrue(railroad.railway.isLit("refused"));
    assertTrue(
        railroad.told().contains("button call (Lane call) asks 'line w2e to f': refused"),
        railroad::told);
  }

  // S17; Transport Canada, Grade Crossings Standards, 16.4. Spots: common practice, no source.
  @Test
  void roadIsWarnedOfATrainAndRestsBehindIt() {
    var railroad = RailroadUnderTest.ready(lane(), LOCAL);
    railroad.tell("line w2e to f");
    railroad.passUntil(
        Duration.ofSeconds(15),
        "the road is warned",
        () -> railroad.aspect("w2e").equals("approach"));
    assertTrue(railroad.railway.isWarning("mill-road"));
    railroad.tell("run 'Lane Local'");
    railroad.passUntil(
        Duration.ofSeconds(90),
        "the train has come to the road",
        () -> {
          assertTrue(railroad.railway.isWarning("mill-road"));
          return railroad.railway.occupied().contains("road");
        });
    railroad.passUntil(
        Duration.ofSeconds(20),
        "the train has left the road",
        () -> !railroad.railway.occupied().contains("road"));
    assertTrue(railroad.railway.isWarning("mill-road"));
    railroad.passTime(Duration.ofMillis(2100));
    assertFalse(railroad.railway.isWarning("mill-road"));
    assertEquals(List.of("east-near"), railroad.railway.occupied());
    railroad.passUntil(
        Duration.ofSeconds(60), "the end of track", () -> railroad.isAtEndOfTrack("Lane Local"));
    assertFalse(railroad.railway.isWarning("mill-road"), "it stands where it has gone");
    assertTrue(railroad.told().contains("a train passes spot gauge (Loading gauge) eastward"));
    assertTrue(railroad.told().contains("a train passes spot bell eastward"));
    assertEquals(List.of(), railroad.railway.mishaps());
  }

  @Test
  void crossingIsToldAgainWhenItsBoardReturns() {
    var railroad = RailroadUnderTest.ready(lane());
    assertFalse(railroad.railway.isWarning("mill-road"));
    railroad.railway.silence(CROSSING);
    railroad.railway.forceSection("road", true);
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(12));
    railroad.railway.restore(CROSSING);
    railroad.carry();
    railroad.passTime(Duration.ofSeconds(2));
    assertTrue(railroad.railway.isWarning("mill-road"));
  }

  @Test
  void roadIsWarnedWhileTheFieldCannotBeHeard() {
    var railroad = RailroadUnderTest.ready(lane());
    railroad.pullCable();
    railroad.plugCableIn();
    assertTrue(railroad.railway.isWarning("mill-road"), "nothing is known of the approaches");
    railroad.passTime(Duration.ofSeconds(10));
    assertFalse(
        railroad.railway.isWarning("mill-road"), () -> railroad.why("mill-road") + railroad.told());
  }

  private static String clause(String why) {
    return why.lines().findFirst().orElseThrow().replace(":", "") + "\n";
  }

  private static OwnerFiles.Railroad lane() {
    return RailroadUnderTest.railroad(Path.of("src", "test", "resources", "lineside"));
  }
}
