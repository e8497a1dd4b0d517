package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;

/** People on, under or between equipment (49 CFR 218.27, 218.29; interlocking sheet, B, S16). */
class BlueFlagTest {

  private final Desk desk = Creamery.desk();

  /** A desk whose switches have all been worked since the start. */
  private void lineAway() {
    desk.order("throw c3 normal");
    desk.movements();
  }

  // 49 CFR 218.29(a): switches that give access are lined away and locked.
  @Test
  void approachSwitchIsLockedAwayWhileTheFlagStands() {
    lineAway();
    desk.order("flag creamery by 'Plant crew'");
    String held = "section creamery is under a blue flag of Plant crew";
    for (String asked : List.of("throw c3 reverse", "line b2e to p-end", "line p2w to a")) {
      String why = desk.refused(asked);
      assertTrue(why.contains(held), why);
    }
    assertTrue(desk.why("c3").contains(held), desk.why("c3"));
    assertTrue(desk.why("creamery").contains(held));
    assertEquals(List.of(), desk.movements());
    desk.order("unflag creamery by 'Plant crew'");
    desk.line(desk.route("spur-in"));
    assertTrue(desk.proceeds("b2e"));
  }

  @Test
  void trainsGoOnPastAFlaggedSpur() {
    lineAway();
    desk.order("flag creamery by 'Plant crew'");
    desk.line(desk.route("east-1"));
    assertTrue(desk.proceeds("b2e"));
    assertEquals(List.of(), desk.movements());
  }

  // 49 CFR 218.29(a)(1): lined away and locked, which takes an order, and is said so.
  @Test
  void refusalSaysThatTheSwitchHasNotBeenSentYet() {
    String why = desk.refused("flag creamery by 'Plant crew'");
    assertTrue(why.contains("switch c3 has not been sent normal"), why);
    assertFalse(why.contains("is not detected"), why);
  }

  // 49 CFR 236.303: what counts is where it is detected, not what it was told.
  @Test
  void isRefusedUntilTheSwitchIsDetectedLinedAway() {
    desk.order("throw c3 reverse");
    desk.pass(1);
    String why = desk.refused("flag creamery by 'Plant crew'");
    assertTrue(why.contains("switch c3 is not detected normal"), why);
    desk.stuck("c3");
    desk.order("throw c3 normal");
    desk.refused("flag creamery by 'Plant crew'");
    desk.lies("c3", Position.NORMAL);
    desk.order("flag creamery by 'Plant crew'");
  }

  // 49 CFR 218.27: removed only by the craft or group that placed it.
  @Test
  void onlyItsOwnerRemovesIt() {
    lineAway();
    desk.order("flag creamery by 'Plant crew' because 'loading'");
    assertEquals(
        """
        section creamery is under a blue flag of Plant crew (loading):
          only Plant crew removes it
        """,
        desk.refused("unflag creamery by Hobbs"));
    assertTrue(desk.refused("flag creamery by Hobbs").contains("Plant crew"));
    desk.order("unflag creamery by 'Plant crew'");
    assertEquals(
        "section creamery is under no blue flag\n", desk.refused("unflag creamery by Hobbs"));
  }

  @Test
  void isRefusedWhileATrainIsOnItsWayIn() {
    desk.line(desk.route("spur-in"));
    String why = desk.refused("flag creamery by 'Plant crew'");
    assertTrue(why.contains("section creamery is held by route spur-in"), why);
  }

  // People work on equipment: the section is occupied as a rule.
  @Test
  void occupiedSectionIsFlaggedAndTold() {
    lineAway();
    desk.occupy("creamery");
    assertEquals(
        """
        blue flag of Plant crew on section creamery is set:
          section creamery is occupied
        """,
        desk.tell("flag creamery by 'Plant crew'").explanation().text());
  }

  @Test
  void switchInAFlaggedSectionDoesNotMove() {
    desk.order("flag y-os by Hobbs");
    desk.refused("throw y1 reverse");
    desk.refused("line d4e to f");
    desk.refused("line e6w to c8w");
  }

  // 49 CFR 236.11: what protects people and is moved by hand is told, and nothing drives it back.
  @Test
  void approachSwitchThatWasForcedIsAnAlarmAndIsNotSentBack() {
    lineAway();
    desk.order("flag creamery by 'Plant crew'");
    desk.lies("c3", Position.REVERSE);
    desk.pass(30);
    assertEquals(List.of("switch c3 is out of correspondence"), desk.interlocking.alarms());
    desk.refused("throw c3 normal");
    desk.refused("line b2e to d4e");
    assertEquals(List.of(), desk.movements());
    assertFalse(desk.proceeds("b2e"));
  }

  // 49 CFR 218.29(a)(2): both ends of a crossover.
  @Test
  void ownerNamesFurtherSwitchesSuchAsTheOtherEndOfACrossover() {
    String rules =
        Creamery.RULES + "flags:\n  - {section: creamery, switches: {c3: normal, y1: reverse}}\n";
    Desk yard = Desk.ready(Creamery.LAYOUT, rules);
    yard.order("throw c3 normal");
    String why = yard.refused("flag creamery by 'Plant crew'");
    assertTrue(why.contains("switch y1 is not detected reverse"), why);
    yard.order("throw y1 reverse");
    yard.pass(1);
    yard.order("flag creamery by 'Plant crew'");
    yard.refused("throw y1 normal");
    yard.refused("line d4e to f");
    yard.line(yard.route("yard-in"));
    assertTrue(yard.proceeds("d4e"));
  }

  @Test
  void conditionsKnowOfFlags() {
    String rules =
        Creamery.RULES + "also:\n  - {signal: d4e, needs: section creamery is not flagged}\n";
    Desk watched = Desk.ready(Creamery.LAYOUT, rules);
    watched.order("throw c3 normal");
    watched.order("flag creamery by 'Plant crew'");
    assertTrue(watched.refused("line d4e to f").contains("under a blue flag of Plant crew"));
  }
}
