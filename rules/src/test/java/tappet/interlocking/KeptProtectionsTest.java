package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.sentence.Command;
import tappet.sentence.Protected;
import tappet.source.Place;

/** The protection of people outlives a restart (interlocking sheet, F.1 S16 and S19). */
class KeptProtectionsTest {

  private static final Protection PERMIT = protection(Protected.PERMIT, "Way Freight", "y-os");
  private static final Protection FLAG = protection(Protected.FLAG, "Plant crew", "creamery");
  private static final Protection SIGNAL = protection(Protected.BLOCKED_SIGNAL, "Hobbs", "c8w");
  private static final Protection SWITCH = protection(Protected.BLOCKED_SWITCH, "Hobbs", "c3");
  private static final Protection SECTION = protection(Protected.BLOCKED_SECTION, "Gang", "east");

  private static Protection protection(Protected by, String holder, String device) {
    return new Protection(by, List.of(device), holder, Moment.UNKNOWN, Optional.empty());
  }

  private static Desk restarted(Protection... protections) {
    return Desk.restarted(Creamery.RAILROAD, new KeptProtections(List.of(protections), List.of()));
  }

  private static Desk restartedInDoubt(String... doubts) {
    return Desk.restarted(Creamery.RAILROAD, new KeptProtections(List.of(), List.of(doubts)));
  }

  private static void ready(Desk desk) {
    desk.allClear();
    desk.pass(10);
  }

  // S19: in force before the field has said a word.
  @Test
  void everythingStandsFromTheFirstStepOn() {
    Desk desk = restarted(PERMIT, FLAG, SIGNAL, SWITCH, SECTION);
    assertEquals(List.of(PERMIT, FLAG, SIGNAL, SWITCH, SECTION), desk.interlocking.protections());
    assertEquals(
        List.of(
            "permit of Way Freight on y-os still stands",
            "blue flag of Plant crew on section creamery still stands",
            "blocking of signal c8w for Hobbs still stands",
            "blocking of switch c3 for Hobbs still stands",
            "blocking of section east for Gang still stands"),
        desk.changes());
    assertTrue(desk.why("y-os").contains("under permit of Way Freight"));
    assertTrue(desk.why("c3").contains("switch c3 is blocked for Hobbs"));
    ready(desk);
    desk.refused("line d4e to q-end");
    desk.refused("line d4e to f");
    desk.refused("line c8w to a");
    desk.refused("line b2e to p-end");
    desk.refused("throw y1 reverse");
    desk.refused("throw c3 normal");
    desk.order("throw y1 reverse for 'Way Freight'");
    desk.pass(1);
    for (String sentence :
        List.of(
            "return permit of 'Way Freight'",
            "unflag creamery by 'Plant crew'",
            "unblock signal c8w",
            "unblock switch c3",
            "unblock section east")) {
      desk.order(sentence);
    }
    desk.line(desk.route("east-2"));
    assertTrue(desk.proceeds("d4e"));
  }

  // A switch that is kept for people counts as called where it is found: nothing moves, trains run.
  @Test
  void trainsGoOnPastAFlaggedSpurAfterARestart() {
    Desk desk = restarted(FLAG);
    ready(desk);
    desk.line(desk.route("east-1"));
    assertTrue(desk.proceeds("b2e"));
    assertEquals(List.of(), desk.movements());
  }

  @Test
  void whatIsKeptIsWhatIsLaidOnAgain() {
    Desk desk = Creamery.desk();
    desk.order("block section mid for A because b");
    desk.order("grant permit to C on west, east");
    Desk again = Desk.restarted(Creamery.RAILROAD, desk.interlocking.kept());
    assertEquals(desk.interlocking.protections(), again.interlocking.protections());
    assertEquals(
        1,
        desk.interlocking
            .keptAfter(new Command.ReturnPermit("C", new Place("desk", 1, 1)))
            .protections()
            .size());
    assertEquals(2, desk.interlocking.kept().protections().size());
  }

  @Test
  void nothingIsLaidOnLater() {
    Desk desk = Creamery.desk();
    assertThrows(
        IllegalStateException.class, () -> desk.interlocking.restore(KeptProtections.NONE));
  }

  // 49 CFR 236.5: what is not known is not safe; nothing is lined before a person has made sure.
  @Test
  void doubtLocksEverythingUntilAPersonHasMadeSure() {
    Desk desk = restartedInDoubt("the file is damaged");
    String alarm =
        "who was protected before the start is not known; make sure, and then tell 'confirm"
            + " protections' (the file is damaged)";
    assertEquals(List.of(alarm), desk.interlocking.alarms());
    assertEquals(List.of(alarm), desk.changes());
    ready(desk);
    for (String asked : List.of("line b2e to d4e", "line e6w to c8w", "throw c3 reverse")) {
      String why = desk.refused(asked);
      assertTrue(why.contains(alarm), why);
    }
    assertEquals(List.of(), desk.movements());
    assertEquals(List.of("the file is damaged"), desk.interlocking.kept().doubts());

    desk.order("grant permit to 'Way Freight' on yard");
    assertEquals(
        """
        protections are confirmed:
          permit of Way Freight on yard
        """,
        desk.tell("confirm protections").explanation().text());
    assertEquals(List.of(), desk.interlocking.alarms());
    assertEquals(List.of(), desk.interlocking.kept().doubts());
    desk.line(desk.route("east-1"));
    assertTrue(desk.proceeds("b2e"));
    desk.refused("line d4e to q-end");
    assertEquals("it is known who is protected\n", desk.refused("confirm protections"));
  }

  // The owner has taken a section out of the layout: its permit is not forgotten in silence.
  @Test
  void protectionWithoutAPlaceIsInDoubt() {
    Desk desk =
        restarted(
            new Protection(
                Protected.PERMIT,
                List.of("yard", "quarry"),
                "Way Freight",
                Moment.UNKNOWN,
                Optional.empty()));
    ready(desk);
    String why = desk.refused("line b2e to d4e");
    assertTrue(
        why.contains(
            "(permit of Way Freight on yard, quarry has no place any more: the layout has no section"
                + " of that name)"),
        why);
    desk.order("confirm protections");
    desk.line(desk.route("east-1"));
    assertTrue(desk.refused("line d4e to q-end").contains("under permit of Way Freight"));
    assertFalse(desk.proceeds("d4e"));
  }
}
