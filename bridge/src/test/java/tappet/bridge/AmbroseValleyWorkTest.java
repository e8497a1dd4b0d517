package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.bridge.RailroadUnderTest.EXTRA_41;
import static tappet.bridge.RailroadUnderTest.MILL_TURN;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;

/**
 * A session's work on the demo, through frames to the simulated railway and back: the quarry, the
 * creamery, the doorway, the breakers, the road, the fascia and hidden staging.
 */
class AmbroseValleyWorkTest {

  private static final Duration A_WHILE = Duration.ofMinutes(2);
  private static final Duration MOMENT = Duration.ofSeconds(1);
  private static final Duration STEADY = Duration.ofSeconds(5);

  // 49 CFR 236.16, 236.410: released at once to the train that stands there, and secured behind it.
  @Test
  void trainAtTheQuarryGetsItsSwitchAndGivesItBack() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    runToTheQuarry(line);
    line.tell("release q1 to 'Extra 41'");
    line.passTime(Duration.ofSeconds(3));
    assertEquals(Optional.empty(), line.railway.throwByCrew("q1", Position.REVERSE));
    line.passTime(STEADY);
    assertTrue(line.refused("line c4w to m2w").contains("mid-east"));
    assertEquals(Optional.empty(), line.railway.throwByCrew("q1", Position.NORMAL));
    line.passTime(STEADY);
    line.tell("secure q1");
    line.passTime(STEADY);
    line.tell("line c2e to corvane-end");
    line.passUntil(A_WHILE, "41 at Corvane", () -> line.isAtEndOfTrack("Extra 41"));
    line.passTime(STEADY);
    assertEquals(List.of(), line.box.alarms());
    assertEquals(List.of(), line.railway.mishaps());
  }

  // 49 CFR 236.207: while a route leads over it, nobody is released anything.
  @Test
  void quarrySwitchIsHeldUnderALinedRoute() {
    RailroadUnderTest line = RailroadUnderTest.ready(MILL_TURN);
    line.tell("line c6w to m2w");
    assertTrue(line.refused("release q1").contains("c6w-m2w"));
    assertTrue(line.railway.throwByCrew("q1", Position.REVERSE).isPresent());
  }

  @Test
  void buttonAtTheQuarryAsksAndItsLampsTell() {
    RailroadUnderTest line = RailroadUnderTest.ready(MILL_TURN);
    line.tell("line c6w to m2w");
    line.railway.press("quarry-call");
    line.carry();
    line.passTime(MOMENT);
    assertTrue(line.railway.isLit("quarry-red"));
    assertFalse(line.railway.isLit("quarry-green"));
  }

  // 49 CFR 218.27, 218.29: the switch lies away and is locked; only the owner removes the flag.
  @Test
  void creameryIsFlaggedByItsCrew() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line c2e to creamery-end");
    line.passTime(STEADY);
    assertTrue(line.refused("flag creamery by 'Plant crew'").contains("c2e-creamery-end"));
    line.tell("cancel c2e");
    line.passTime(Duration.ofSeconds(15));
    line.tell("throw cr1 normal");
    line.passTime(STEADY);
    line.tell("flag creamery by 'Plant crew'");
    assertTrue(line.refused("line c2e to creamery-end").contains("Plant crew"));
    assertTrue(line.refused("throw cr1 reverse").contains("Plant crew"));
    line.tell("line c2e to mill-end");
    line.passTime(STEADY);
    assertEquals("diverging-approach", line.aspect("c2e"));
    line.refused("unflag creamery by 'Yard crew'");
    line.tell("unflag creamery by 'Plant crew'");
  }

  // 49 CFR 214.321: a crew has the branch to itself until it gives it back by name.
  @Test
  void branchIsHeldUnderAPermit() {
    RailroadUnderTest line = RailroadUnderTest.ready(MILL_TURN);
    line.tell("grant permit to 'Way Freight' on mill-branch, mill-os because 'switching'");
    assertTrue(line.refused("line c2e to mill-end").contains("Way Freight"));
    assertTrue(line.refused("throw cr1 reverse").contains("Way Freight"));
    line.tell("throw cr1 reverse for 'Way Freight'");
    line.passTime(STEADY);
    assertTrue(line.railway.isLit("creamery-spur"));
    line.tell("return permit of 'Way Freight'");
    line.tell("line c2e to creamery-end");
  }

  // 49 CFR 236.312.
  @Test
  void nothingRunsOverTheDoorwayUnlessItIsClosedAndLocked() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line t4w to f6w");
    line.passTime(MOMENT);
    assertTrue(line.refused("unlock doorway").contains("t4w-f6w"));
    line.tell("cancel t4w");
    line.passTime(Duration.ofSeconds(15));
    line.tell("unlock doorway");
    line.passTime(STEADY);
    line.railway.open("doorway");
    line.carry();
    assertTrue(line.refused("line f2e to t2e").contains("Doorway lift-out"));
    line.railway.close("doorway");
    line.carry();
    line.tell("lock doorway");
    line.passTime(STEADY);
    line.tell("line f2e to t2e");
  }

  // S13: an alarm that names the place, and nothing that clears by itself.
  @Test
  void breakerThatTripsHoldsItsSignalsUntilTheyAreAskedForAgain() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line t4e to m2e");
    line.passTime(MOMENT);
    assertEquals("approach", line.aspect("m2e"));
    line.railway.tripBreaker("east");
    line.carry();
    assertEquals("stop", line.aspect("t4e"));
    assertEquals("stop", line.aspect("m2e"));
    assertTrue(
        line.box.alarms().get(0).startsWith("power district east (East end) is tripped"),
        line.box.alarms()::toString);
    line.railway.restoreBreaker("east");
    line.carry();
    line.passTime(A_WHILE);
    assertEquals(List.of(), line.box.alarms());
    assertEquals("stop", line.aspect("t4e"));
    assertEquals("stop", line.aspect("m2e"));
  }

  // Transport Canada, Grade Crossings Standards, 16: warned before the train, released behind it.
  @Test
  void roadIsWarnedOfTheTrainAndReleasedBehindIt() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    assertFalse(line.railway.isWarning("mill-road-bells"));
    lineToCorvane(line);
    line.tell("run 'Extra 41'");
    line.passUntil(A_WHILE, "the bells", () -> line.railway.isWarning("mill-road-bells"));
    assertFalse(line.train("Extra 41").sections().contains("mill-road"));
    line.passUntil(A_WHILE, "the road free", () -> !line.railway.isWarning("mill-road-bells"));
    assertFalse(line.train("Extra 41").sections().contains("mill-road"));
  }

  @Test
  void spotInHiddenStagingAnnouncesTheTrain() {
    RailroadUnderTest line = RailroadUnderTest.ready(EXTRA_41);
    line.tell("line f2e to t2e");
    line.tell("run 'Extra 41'");
    line.passUntil(A_WHILE, "the train at Tilling", () -> line.waitsAt("Extra 41", "t2e"));
    assertTrue(line.told().contains("Fallow spot"), line::told);
  }

  private static void runToTheQuarry(RailroadUnderTest line) {
    lineToCorvane(line);
    line.tell("run 'Extra 41'");
    line.passUntil(A_WHILE, "41 at the quarry", () -> line.waitsAt("Extra 41", "c2e"));
    line.passTime(STEADY);
  }

  private static void lineToCorvane(RailroadUnderTest line) {
    line.tell("line t4e to m2e");
    line.tell("line t2e to t4e");
    line.tell("line f2e to t2e");
    line.passTime(STEADY);
  }
}
