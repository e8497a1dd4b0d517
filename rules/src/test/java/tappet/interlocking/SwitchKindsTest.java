package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;
import static tappet.layout.Position.REVERSE;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Switches that others throw, that spring, that move together, that nothing detects; derails. */
class SwitchKindsTest {

  private final Desk desk = Kinds.desk();

  // Common practice, no source: detector and route locking hold whoever throws.
  @Test
  void localSwitchIsThrownFromItsControlUnlessItIsLocked() {
    assertEquals(
        "switch l1 is not thrown by the dispatcher",
        desk.tell("throw l1 reverse").explanation().clause());
    desk.ask("l1", REVERSE);
    assertEquals(List.of("l1 reverse"), desk.movements());
    desk.pass(1.0);
    desk.occupy("l-os");
    desk.changes();
    desk.ask("l1", NORMAL);
    assertEquals(List.of(), desk.movements());
    assertEquals(List.of("switch l1 stays, though its control asks: it is locked"), desk.changes());
  }

  // 49 CFR 236.302, 236.303: a route finds a local switch right, locks it, and never sends it.
  @Test
  void routeLocksALocalSwitchAndDoesNotSendIt() {
    var answer = desk.tell("line g2e to r");
    assertFalse(answer.granted());
    assertTrue(
        answer
            .explanation()
            .text()
            .contains("switch l1 must lie reverse, and it is thrown from the control beside"));
    desk.order("line g2e to o");
    assertTrue(desk.proceeds("g2e"));
    desk.ask("l1", REVERSE);
    assertEquals(List.of(), desk.movements());
    assertTrue(desk.proceeds("g2e"));
  }

  // H.5: once it is sent elsewhere it is not where it was, whatever its detector still says.
  @Test
  void localSwitchThatHasBeenSentAwayIsNotInPlace() {
    desk.stuck("l1");
    desk.ask("l1", REVERSE);
    assertFalse(desk.tell("line g2e to o").granted());
    desk.pass(4.0);
    assertEquals(List.of("switch l1 is out of correspondence"), desk.interlocking.alarms());
  }

  // 49 CFR 236.6, 236.202: a hand-thrown switch is proved by detection and never sent.
  @Test
  void routeOverAHandThrownSwitchNeedsItToLieRight() {
    var answer = desk.tell("line g2e to p");
    assertFalse(answer.granted());
    assertTrue(
        answer
            .explanation()
            .text()
            .contains("switch h1 must lie reverse, and it is thrown by hand"));
    desk.lies("h1", REVERSE);
    desk.order("line g2e to p");
    assertTrue(desk.proceeds("g2e"));
    assertEquals(List.of(), desk.movements());
  }

  // 49 CFR 236.6, 236.11: opened under a lined route: Stop, an alarm, and no clearing by itself.
  @Test
  void handThrownSwitchOpenedUnderARoutePutsTheSignalToStop() {
    desk.order("line g2e to o");
    desk.moving("h1");
    assertEquals("stop", desk.shows("g2e"));
    assertEquals(
        List.of("switch h1 has left its place under a lined route"), desk.interlocking.alarms());
    desk.lies("h1", NORMAL);
    assertEquals(List.of(), desk.interlocking.alarms());
    assertEquals("stop", desk.shows("g2e"));
  }

  // 49 CFR 236.12–13: a facing movement needs the normal point closed.
  @Test
  void facingRouteNeedsTheSprungSwitchClosed() {
    desk.order("line d2w to b2w");
    assertTrue(desk.proceeds("d2w"));
    desk.moving("sp");
    assertEquals("stop", desk.shows("d2w"));
    assertEquals(
        List.of("switch sp has left its place under a lined route"), desk.interlocking.alarms());
  }

  // 49 CFR 236.12–13, F.1 S5: trailing through is allowed from the reverse leg, and is not told.
  @Test
  void trainTrailsThroughASprungSwitchWithoutAnAlarm() {
    desk.order("line s2e to e2e");
    assertTrue(desk.proceeds("s2e"));
    desk.occupy("sp-os");
    desk.lies("sp", REVERSE);
    desk.pass(60.0);
    assertEquals(List.of(), desk.interlocking.alarms());
    desk.moves("sp-os", "east");
    desk.lies("sp", NORMAL);
    desk.pass(60.0);
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  // 49 CFR 236.11, 236.12: a spring that does not close the switch behind the train is told.
  @Test
  void sprungSwitchThatStaysOpenIsTold() {
    desk.occupy("sp-os");
    desk.lies("sp", REVERSE);
    desk.clear("sp-os");
    desk.pass(2.0 + 4.0);
    assertEquals(List.of("switch sp has not closed"), desk.interlocking.alarms());
    assertFalse(desk.tell("line d2w to b2w").granted());
  }

  // 49 CFR 236.14: out of the siding only with the main clear in approach, and its signal's time
  // run.
  @Test
  void trainLeavesTheSidingOnlyWhenNobodyComesOnTheMain() {
    desk.occupy("mid");
    assertFalse(desk.tell("line s2e to e2e").granted());
    desk.clear("mid");
    desk.steady();
    desk.order("line a2e to c2e");
    assertFalse(desk.tell("line s2e to e2e").granted());
    desk.order("cancel a2e");
    desk.pass(4.9);
    assertFalse(desk.tell("line s2e to e2e").granted());
    desk.pass(0.1);
    desk.order("line s2e to e2e");
    desk.occupy("quarry-track");
    assertEquals("stop", desk.shows("s2e"));
  }

  // H.8: what has never been sent is not known to lie anywhere.
  @Test
  void positionOfAnUndetectedSwitchIsAssumedOnlyAfterItWasSent() {
    desk.ask("l1", REVERSE);
    desk.pass(1.0);
    assertTrue(
        desk.why("u1")
            .startsWith(
                """
                switch u1 is not known to lie in either position (no detection):
                  it has not been sent since the start
                """));
    desk.order("line g2e to r");
    desk.pass(3.9);
    assertEquals("stop", desk.shows("g2e"));
    desk.pass(0.1);
    assertEquals("approach", desk.shows("g2e"));
    assertTrue(desk.why("u1").startsWith("switch u1 is assumed to lie normal (no detection)"));
  }

  // 49 CFR 236.5: what may not have arrived is not assumed; it is sent once more.
  @Test
  void whatWasAssumedIsForgottenWithItsBoardAndWithThePower() {
    desk.order("throw u1 normal");
    desk.ask("l1", REVERSE);
    desk.pass(4.0);
    desk.order("line g2e to r");
    assertTrue(desk.proceeds("g2e"));
    desk.forget("u1");
    assertEquals("stop", desk.shows("g2e"));
    desk.refused("throw u1 normal"); // 236.307: a train may have accepted the signal
    desk.order("cancel g2e");
    desk.pass(5.0);
    desk.order("throw u1 normal");
    desk.pass(4.0);
    desk.order("line g2e to r");
    assertTrue(desk.proceeds("g2e"));
    desk.emergency(Emergency.OFF, true);
    desk.emergency(Emergency.OFF, false);
    desk.pass(10.0);
    assertTrue(
        desk.why("u1")
            .startsWith(
                """
                switch u1 is not known to lie in either position (no detection):
                  it may not have followed its last order: its board, a connection or the power \
                was lost; send it again
                """));
  }

  // 49 CFR 236.303: a crossover is in place when both of its ends are.
  @Test
  void crossoverIsInPlaceOnlyWithBothEnds() {
    desk.stuck("x1b");
    desk.order("line e2e to z2");
    assertEquals(List.of("x1 reverse"), desk.movements());
    desk.pass(1.0);
    assertEquals("stop", desk.shows("e2e"));
    assertTrue(desk.why("e2e").contains("switch x1b is not detected reverse"));
    desk.lies("x1b", REVERSE);
    assertEquals("approach", desk.shows("e2e"));
  }

  // Common practice, no source: an order to a crossover goes to whatever moves either end.
  @Test
  void bothMachinesOfACrossoverAreTold() {
    Desk two = Desk.ready(Desk.Railroad.read(Kinds.LAYOUT_WITH_TWO_MACHINES, Kinds.RULES));
    two.order("throw x1 reverse");
    assertEquals(List.of("x1 reverse", "x1b reverse"), two.movements());
  }

  // Common practice, no source: what holds one end holds the other; F.1 S3.
  @ParameterizedTest
  @ValueSource(strings = {"x1-os", "x2-os"})
  void eitherEndsSectionLocksBoth(String section) {
    desk.occupy(section);
    assertFalse(desk.tell("throw x1 reverse").granted());
    assertFalse(desk.tell("throw x1b reverse").granted());
    assertEquals(List.of(), desk.movements());
  }

  // 49 CFR 236.304: parallel moves along both tracks go together; a crossing one excludes either.
  @Test
  void routesOnBothTracksExcludeTheCrossover() {
    desk.order("line e2e to g2e");
    desk.order("line h2e to z2");
    assertTrue(desk.proceeds("e2e"));
    assertTrue(desk.proceeds("h2e"));
    desk.order("cancel e2e");
    desk.pass(5.0);
    assertFalse(desk.locked("one"));
    assertFalse(desk.tell("throw x1 reverse").granted());
    assertFalse(desk.tell("line e2e to z2").granted());
  }

  // 49 CFR 236.205, 236.303: a derail over which a route leads must be proved not to derail.
  @Test
  void routeOverADerailNeedsItToLetTrainsPass() {
    desk.order("release quarry");
    desk.lies("quarry", REVERSE);
    desk.lies("d1", REVERSE);
    desk.order("secure quarry");
    desk.order("line q2w to y");
    assertTrue(desk.proceeds("q2w"));
    desk.moving("d1");
    assertEquals("stop", desk.shows("q2w"));
  }

  // 49 CFR 236.205: the main needs the derail proved derailing.
  @Test
  void mainNeedsTheDerailOfTheSpurProvedDerailing() {
    desk.order("line a2e to c2e");
    assertTrue(desk.proceeds("a2e"));
    desk.moving("d1");
    assertEquals("stop", desk.shows("a2e"));
    assertTrue(desk.why("a2e").contains("derail d1 is not detected normal"));
  }

  // 49 CFR 236.11, 236.307: tried again up to the limit, each told, and then the alarm.
  @Test
  void switchThatDoesNotComeIsTriedAgainUpToItsLimit() {
    desk.stuck("x1");
    desk.order("line e2e to z2");
    desk.pass(11.9);
    assertEquals(List.of("x1 reverse", "x1 reverse", "x1 reverse"), desk.movements());
    assertEquals(List.of(), desk.interlocking.alarms());
    assertEquals("stop", desk.shows("e2e"));
    assertTrue(
        desk.changes()
            .containsAll(
                List.of(
                    "switch x1 has not come where it was sent; it is sent once more (2 of 3)",
                    "switch x1 has not come where it was sent; it is sent once more (3 of 3)")));
    desk.pass(0.1);
    assertEquals(List.of("switch x1 is out of correspondence"), desk.interlocking.alarms());
    desk.pass(60.0);
    assertEquals(List.of(), desk.movements());
    desk.lies("x1", REVERSE);
    assertEquals(List.of(), desk.interlocking.alarms());
    assertEquals("approach", desk.shows("e2e"));
  }

  // F.1 S3: not under a train, and then a person must see to it at once.
  @Test
  void switchIsNotTriedAgainUnderATrain() {
    desk.stuck("x1");
    desk.order("throw x1 reverse");
    desk.movements();
    desk.occupy("x2-os");
    desk.pass(60.0);
    assertEquals(List.of(), desk.movements());
    assertEquals(List.of("switch x1 is out of correspondence"), desk.interlocking.alarms());
  }

  // 49 CFR 236.307, H.4: a switch that leaves its place by itself is not moved by itself.
  @Test
  void switchThatLeavesItsPlaceUnderAShownSignalIsNotTriedAgain() {
    desk.order("throw x1 normal");
    desk.order("line e2e to g2e");
    assertTrue(desk.proceeds("e2e"));
    desk.movements();
    desk.moving("x1");
    desk.pass(60.0);
    assertEquals("stop", desk.shows("e2e"));
    assertEquals(List.of(), desk.movements());
    assertTrue(desk.interlocking.alarms().contains("switch x1 is out of correspondence"));
  }
}
