package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;
import static tappet.layout.Position.REVERSE;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.rules.RouteRow;

/** Indication locking: the next thing happens when the one before is detected, not when sent. */
class IndicationLockingTest {

  static List<RouteRow> routesOverSwitches() {
    return Desk.Railroad.DEMO.table().routes().values().stream()
        .filter(route -> !route.switches().isEmpty())
        .toList();
  }

  // 49 CFR 236.303, 236.307, 236.762: a switch that fails to move holds the signal at Stop.
  @ParameterizedTest
  @MethodSource("routesOverSwitches")
  void switchThatFailsToMoveHoldsTheSignalAtStop(RouteRow route) {
    for (var toe : route.switches().entrySet()) {
      var desk = Desk.demo();
      desk.lies(toe.getKey(), toe.getValue().opposite());
      desk.stuck(toe.getKey());
      desk.line(route);
      desk.pass(60.0);
      assertEquals("stop", desk.shows(route.from()), toe::toString);
      assertTrue(desk.locked(route.id()));
    }
  }

  // 49 CFR 236.7, H.5: a command is no evidence of position. 236.303: nor is half of the switches.
  @Test
  void signalWaitsForEverySwitchToBeDetected() {
    var desk = Desk.demo();
    desk.lies("c1", REVERSE);
    desk.lies("c2", REVERSE);
    desk.stuck("c1");
    desk.stuck("c2");
    desk.movements();
    desk.order("line c2e to corvane-end");
    assertEquals(List.of("c1 normal", "c2 normal"), desk.movements());
    assertEquals("stop", desk.shows("c2e"));
    desk.moving("c1");
    desk.lies("c1", NORMAL);
    assertEquals("stop", desk.shows("c2e"));
    desk.moving("c2");
    assertEquals("stop", desk.shows("c2e"));
    desk.lies("c2", NORMAL);
    assertEquals("approach", desk.shows("c2e"));
  }

  // 49 CFR 236.303, H.5: the signal follows the detector, whatever was sent.
  @Test
  void switchDetectedInTheOtherPositionPutsTheSignalToStop() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    assertEquals("approach", desk.shows("t2e"));
    desk.lies("t1", REVERSE);
    assertEquals("stop", desk.shows("t2e"));
    assertTrue(desk.locked("t2e-t4e"));
  }

  // 49 CFR 236.202, 236.205, H.5: out of position drops the signal at once and releases nothing.
  @ParameterizedTest
  @MethodSource("routesOverSwitches")
  void switchThatLeavesItsPositionPutsTheSignalToStopAndStaysLocked(RouteRow route) {
    for (String id : route.switches().keySet()) {
      var desk = Desk.demo();
      desk.line(route);
      assertTrue(desk.proceeds(route.from()));
      desk.moving(id);
      assertEquals("stop", desk.shows(route.from()), id);
      assertTrue(desk.locked(route.id()), id);
    }
  }

  // 49 CFR 236.307: a switch of a cleared signal is not free before the signal is at Stop and its
  // time has run, though it stands right.
  @Test
  void switchIsNotFreeWhileItsSignalShowsProceed() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    assertTrue(desk.holds("t1"));
    assertFalse(desk.tell("line t2e to t6e").granted());
    desk.order("cancel t2e");
    assertFalse(desk.holds("t1"));
  }

  // 49 CFR 236.11, 236.326: a disagreement is told after the time a throw may take, and ends.
  @Test
  void disagreementOfCallAndDetectionIsTold() {
    var desk = Desk.demo();
    desk.stuck("t1");
    desk.order("throw t1 reverse");
    desk.pass(3.9);
    assertEquals(List.of(), desk.interlocking.alarms());
    desk.pass(0.1);
    assertEquals(
        List.of("switch t1 (West Tilling) is out of correspondence"), desk.interlocking.alarms());
    desk.lies("t1", REVERSE);
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  // 49 CFR 236.386, 236.387: after an obstruction the switch may be sent again.
  @Test
  void obstructedSwitchCanBeSentAgain() {
    var desk = Desk.demo();
    desk.stuck("t1");
    desk.order("line t2e to t6e");
    desk.pass(10.0);
    assertEquals("stop", desk.shows("t2e"));
    desk.freed("t1");
    desk.movements();
    desk.order("throw t1 reverse");
    assertEquals(List.of("t1 reverse"), desk.movements());
    desk.pass(1.0);
    assertEquals("diverging-approach", desk.shows("t2e"));
  }

  // 49 CFR 236.307, F.1 S9: a train may have accepted the signal before the switch failed, and
  // come.
  @Test
  void failingSwitchIsNotThrownBeforeATrain() {
    var desk = Desk.demo();
    desk.order("line t2e to t4e");
    desk.occupy("west-main");
    assertEquals("approach", desk.shows("t2e"));
    desk.moving("t1");
    desk.movements();
    assertEquals(
        """
        switch t1 (West Tilling) cannot be thrown normal:
          section tilling-w is held by route t2e-t4e
          a train may have accepted the signal of route t2e-t4e
        """,
        desk.refused("throw t1 normal"));
    desk.order("cancel t2e");
    desk.pass(9.9);
    desk.refused("throw t1 normal");
    assertEquals(List.of(), desk.movements());
    desk.pass(0.1);
    desk.order("throw t1 normal");
    assertEquals(List.of("t1 normal"), desk.movements());
  }

  // 49 CFR 236.307: the same of a switch beside the way, for a crew that has it in its permit.
  @Test
  void failingFlankSwitchIsNotThrownBeforeATrain() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    desk.order("grant permit to Hobbs on spur-os, spur");
    desk.order("throw f normal for Hobbs");
    desk.order("line b2e to d");
    assertEquals("approach", desk.shows("b2e"));
    desk.moving("f");
    desk.movements();
    assertEquals(
        """
        switch f cannot be thrown normal:
          route b2e-d is locked
          a train may have accepted the signal of route b2e-d
        """,
        desk.refused("throw f normal for Hobbs"));
    assertEquals(List.of(), desk.movements());
  }

  // 49 CFR 236.307, F.1 S9: the same where the train comes by an automatic signal, which nobody can
  // cancel: it has to be gone, by the way the switch lies or back.
  @Test
  void failingSwitchIsNotThrownBeforeATrainByAnAutomaticSignal() {
    var desk = Throat.automatic();
    desk.order("throw s2 normal");
    desk.order("line a2e to m2e");
    assertEquals(List.of("a2e", "m2e"), desk.proceeding().stream().sorted().toList());
    desk.moving("s2");
    desk.movements();
    assertEquals(
        """
        switch s2 cannot be thrown normal:
          traffic on way is set east
          route a2e-m2e is locked
        """,
        desk.refused("throw s2 normal"));
    desk.runs("near", "first", "middle");
    assertEquals(
        """
        switch s2 cannot be thrown normal:
          traffic on way is set east
          section middle is occupied
        """,
        desk.refused("throw s2 normal"));
    assertEquals(List.of(), desk.movements());
    desk.clear("middle");
    desk.steady();
    desk.order("throw s2 normal");
    assertEquals(List.of("s2 normal"), desk.movements());
  }

  // H.8, 49 CFR 236.5: a position that is not known is no position.
  @Test
  void unknownPositionHoldsTheSignalAtStop() {
    var desk = Desk.demo();
    desk.moving("t1");
    desk.stuck("t1");
    desk.order("line t2e to t4e");
    desk.pass(10.0);
    assertEquals("stop", desk.shows("t2e"));
  }
}
