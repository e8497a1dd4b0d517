package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Position;

/** Blocking devices on controls (49 CFR 214.327; interlocking sheet, B, F.1 S8 and H.22). */
class BlockingTest {

  private final Desk desk = Creamery.desk();

  @Test
  void noRouteIsLinedFromABlockedSignal() {
    desk.order("block signal d4e for 'Section crew' because 'rail work'");
    String held = "signal d4e is blocked for Section crew (rail work)";
    assertTrue(desk.refused("line d4e to f").contains(held));
    assertTrue(desk.refused("line d4e to q-end").contains(held));
    assertTrue(desk.why("d4e").contains(held));
    assertTrue(desk.refused("block signal d4e for Hobbs").contains(held));
    desk.order("line e6w to c8w");
    desk.order("unblock signal d4e");
  }

  // H.22, 49 CFR 236.305: the signal goes to Stop; the route stays locked and runs its time.
  @Test
  void blockingASignalPutsItToStopAndNeverLetsItClearAgain() {
    desk.line(desk.route("east-2"));
    assertEquals(
        """
        blocking of signal d4e for Hobbs is set:
          route east-2 is locked
        """,
        desk.tell("block signal d4e for Hobbs").explanation().text());
    assertFalse(desk.proceeds("d4e"));
    assertTrue(desk.locked("east-2"));
    desk.refused("line d4e to f");
    assertFalse(desk.proceeds("d4e"));

    desk.order("unblock signal d4e");
    desk.pass(30);
    assertFalse(desk.proceeds("d4e"), "nothing clears by itself");
    desk.order("line d4e to f");
    assertTrue(desk.proceeds("d4e"));
  }

  @Test
  void routeOfABlockedSignalIsCancelledWithItsTime() {
    desk.line(desk.route("east-2"));
    desk.order("block signal d4e for Hobbs");
    desk.order("cancel d4e");
    desk.pass(9);
    assertTrue(desk.locked("east-2"));
    desk.pass(1);
    assertFalse(desk.locked("east-2"));
  }

  // H.22: a signal that has not yet cleared does not clear when the blocking is lifted either.
  @Test
  void signalThatStillWaitsIsNotClearedByTheEndOfItsBlocking() {
    desk.stuck("y1");
    desk.order("line d4e to q-end");
    desk.order("block signal d4e for Hobbs");
    desk.order("unblock signal d4e");
    desk.lies("y1", Position.REVERSE);
    desk.pass(5);
    assertFalse(desk.proceeds("d4e"));
    desk.order("line d4e to q-end");
    assertTrue(desk.proceeds("d4e"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"line b2e to d4e", "line e6w to c8w"})
  void noRouteIsLinedOverABlockedSection(String route) {
    desk.order("block section mid for 'Section crew'");
    String held = "section mid is blocked for Section crew";
    assertTrue(desk.refused(route).contains(held));
    assertTrue(desk.why("mid").contains(held));
    desk.order("line b2e to p-end");
    desk.order("unblock section mid");
    desk.order("line e6w to c8w");
  }

  // 49 CFR 214.327(a)(5): the operator secures the switch against movement.
  @Test
  void switchOfABlockedSectionStaysAsItLies() {
    desk.order("block section y-os for 'Section crew'");
    assertTrue(desk.refused("throw y1 reverse").contains("section y-os is blocked for Section"));
    assertTrue(desk.refused("throw y1 normal").contains("section y-os is blocked for Section"));
    assertEquals(List.of(), desk.movements());
  }

  @ParameterizedTest
  @ValueSource(strings = {"section c-os", "section creamery", "switch c3"})
  void sectionsAndSwitchesUnderARouteAreNotBlocked(String device) {
    desk.order("line b2e to p-end");
    desk.pass(1);
    String why = desk.refused("block " + device + " for Hobbs");
    assertTrue(why.contains("route spur-in"), why);
    desk.order("cancel b2e");
    desk.refused("block " + device + " for Hobbs");
    desk.pass(10);
    desk.order("block " + device + " for Hobbs");
  }

  @Test
  void blockedSwitchStaysWhereItLiesWhoeverAsks() {
    desk.order("block switch y1 for Hobbs");
    for (String asked : List.of("throw y1 reverse", "throw y1 normal", "line d4e to q-end")) {
      String why = desk.refused(asked);
      assertTrue(why.contains("switch y1 is blocked for Hobbs"), why);
    }
    desk.order("grant permit to 'Way Freight' on y-os");
    assertTrue(
        desk.refused("throw y1 reverse for 'Way Freight'")
            .contains("switch y1 is blocked for Hobbs"));
    desk.order("return permit of 'Way Freight'");
    assertEquals(List.of(), desk.movements());

    desk.line(desk.route("east-2"));
    assertTrue(desk.proceeds("d4e"), "a route may run over it as it lies");
    assertEquals(List.of(), desk.movements(), "and sends it nothing");
  }

  // 49 CFR 236.326: a switch that somebody has moved by hand is not driven back under their hands.
  @Test
  void blockedSwitchThatWasMovedByHandIsNotSentBack() {
    desk.order("throw y1 normal");
    desk.order("block switch y1 for Hobbs");
    desk.movements();
    desk.lies("y1", Position.REVERSE);
    desk.refused("line d4e to f");
    desk.refused("line d4e to q-end");
    desk.refused("throw y1 normal");
    assertEquals(List.of(), desk.movements());
  }

  @Test
  void movingSwitchIsNotBlockedUntilItHasComeToLie() {
    desk.throwTime(3);
    desk.order("throw y1 reverse");
    for (String device : List.of("switch y1", "section y-os")) {
      String why = desk.refused("block " + device + " for Hobbs");
      assertTrue(why.contains("switch y1 may still be moving"), why);
    }
    desk.pass(3);
    desk.order("block switch y1 for Hobbs");
  }

  // 49 CFR 236.11: a switch that has failed is blocked while somebody sees to it.
  @Test
  void failedSwitchMayBeBlocked() {
    desk.stuck("y1");
    desk.order("throw y1 reverse");
    desk.moving("y1");
    desk.pass(30);
    desk.order("block switch y1 for Hobbs");
  }

  // A section is protected in one way at a time: two crews would each think it theirs.
  @ParameterizedTest
  @CsvSource({
    "grant permit to A on west, block section west for B, section west is under permit of A",
    "block section west for A, grant permit to B on west, section west is blocked for A",
    "flag west by A, block section west for B, section west is under a blue flag of A",
    "block section west for A, flag west by B, section west is blocked for A",
    "flag west by A, grant permit to B on west, section west is under a blue flag of A",
    "grant permit to A on west, flag west by B, section west is under permit of A",
  })
  void sectionIsProtectedInOneWayAtATime(String first, String second, String held) {
    desk.order(first);
    String why = desk.refused(second);
    assertTrue(why.contains(held), why);
  }

  @Test
  void liftingWhatIsNotBlockedIsTold() {
    assertEquals("signal d4e is not blocked\n", desk.refused("unblock signal d4e"));
    assertEquals(
        """
        there is no signal 'd4w':
          did you mean 'd4e'?
        """,
        desk.refused("unblock signal d4w"));
    assertTrue(desk.refused("block switch y11 for Hobbs").contains("did you mean 'y1'?"));
  }

  // 49 CFR 236.5: a condition asks for what is known.
  @Test
  void conditionsKnowOfBlockings() {
    String rules =
        Creamery.RULES
            + "also:\n"
            + "  - {signal: b2e, needs: not signal c8w is blocked and switch y1 is not blocked}\n";
    Desk watched = Desk.ready(Creamery.LAYOUT, rules);
    watched.order("block switch y1 for A");
    assertTrue(watched.refused("line b2e to d4e").contains("switch y1 is blocked for A"));
    watched.order("unblock switch y1");
    watched.order("block signal c8w for B");
    assertTrue(watched.refused("line b2e to d4e").contains("signal c8w is blocked for B"));
    watched.order("unblock signal c8w");
    watched.order("line b2e to d4e");
  }
}
