package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Position;
import tappet.sentence.Protected;

/** A crew holds named sections (49 CFR 214.321, 214.323; interlocking sheet, B and F.1 S16). */
class PermitTest {

  private static final String GRANT = "grant permit to 'Way Freight' on y-os, yard";
  private static final Moment AT_14_03 =
      new Moment(Optional.of(LocalDateTime.of(2026, 11, 25, 14, 3)), OptionalInt.of(390));

  private final Desk desk = Creamery.desk();

  // 49 CFR 214.321(a), F.1 S16: no train is let in until the permit is given up.
  @ParameterizedTest
  @ValueSource(strings = {"line d4e to f", "line d4e to q-end", "line e6w to c8w"})
  void noRouteLeadsIntoSectionsUnderPermit(String route) {
    desk.order(GRANT);
    String why = desk.refused(route);
    assertTrue(why.contains("section y-os is under permit of Way Freight"), why);
    desk.order("return permit of 'Way Freight'");
    desk.order(route);
  }

  @Test
  void routesBesideItAreFree() {
    desk.order(GRANT);
    desk.line(desk.route("east-1"));
    assertEquals("approach", desk.shows("b2e"));
  }

  // 49 CFR 214.321(c): who holds it, since when and why is told to everybody who asks.
  @Test
  void refusalSaysWhoHoldsItSinceWhenAndWhy() {
    desk.at(AT_14_03);
    desk.order("grant permit to 'Way Freight' on yard because 'tie renewal'");
    String held =
        "section yard is under permit of Way Freight since 2026-11-25 14:03, 06:30 by the fast"
            + " clock (tie renewal)";
    assertTrue(desk.refused("line d4e to q-end").contains(held));
    assertTrue(desk.why("yard").contains(held), desk.why("yard"));
    assertTrue(desk.why("yard-in").contains(held), desk.why("yard-in"));
    assertTrue(desk.why("d4e").contains(held), desk.why("d4e"));
    assertEquals(
        """
        people are protected:
          permit of Way Freight on yard since 2026-11-25 14:03, 06:30 by the fast clock (tie renewal)
        """,
        desk.why("protections"));
    assertEquals(
        List.of(
            new Protection(
                Protected.PERMIT,
                List.of("yard"),
                "Way Freight",
                AT_14_03,
                Optional.of("tie renewal"))),
        desk.interlocking.protections());
  }

  @Test
  void watchersHearOfIt() {
    desk.changes();
    desk.order(GRANT);
    assertEquals(List.of("permit of Way Freight on y-os, yard is granted"), desk.changes());
    desk.order("return permit of 'Way Freight'");
    assertEquals(List.of("permit of Way Freight on y-os, yard is returned"), desk.changes());
    assertEquals("nobody is protected\n", desk.why("protections"));
  }

  // 49 CFR 214.323(a): only after all trains are withheld.
  @Test
  void isRefusedWhileARouteIsLockedOverIt() {
    desk.line(desk.route("east-2"));
    String why = desk.refused(GRANT);
    assertTrue(why.contains("section y-os is held by route east-2"), why);
    assertTrue(desk.proceeds("d4e"));
  }

  // 49 CFR 236.407: a cancelled route is not gone until its time has run.
  @Test
  void isRefusedWhileARouteIntoItIsBeingCancelled() {
    desk.line(desk.route("east-2"));
    desk.order("cancel d4e");
    desk.pass(4);
    String why = desk.refused(GRANT);
    assertTrue(
        why.contains("route east-2 is being cancelled and its release time runs, 6 s left"), why);
    desk.pass(6);
    desk.order(GRANT);
  }

  @Test
  void isRefusedWhileATrainRunsOverIt() {
    desk.line(desk.route("east-2"));
    desk.occupy("y-os");
    desk.refused(GRANT);
    desk.moves("y-os", "east");
    desk.order(GRANT);
  }

  // 49 CFR 214.323(a), F.1 S16: no route locks the way of a train that has passed an automatic
  // signal. The one that stands in the section may be the crew's own.
  @ParameterizedTest
  @ValueSource(
      strings = {
        "grant permit to Hobbs on mid-west",
        "block section mid-west for Hobbs",
        "flag mid-west by Hobbs"
      })
  void isRefusedWhileATrainRunsTowardItFromAnAutomaticSignal(String protect) {
    Desk demo = midway();
    demo.order("line c4w to m2w");
    demo.pass(5.0);
    demo.runs("corvane-main", "corvane-w", "mid-east");
    assertFalse(demo.locked("c4w-m2w"));
    assertTrue(demo.proceeds("m2w"));
    demo.refused(protect);
    demo.moves("mid-east", "mid-near");
    assertFalse(demo.proceeds("m2w"));
    demo.pass(60.0);
    String why = demo.refused(protect);
    assertTrue(why.contains("section mid-near (West of Midway) is occupied"), why);
    demo.moves("mid-near", "mill-road");
    why = demo.refused(protect);
    assertTrue(why.contains("section mill-road (Mill Road) is occupied"), why);
    demo.moves("mill-road", "mid-west");
    demo.order(protect);
  }

  // 49 CFR 236.5, F.1 S4: a train that saw the signal before it fell passes it, or stops in time.
  @Test
  void isRefusedUntilATrainThatSawTheAutomaticSignalHasStopped() {
    Desk demo = midway();
    demo.order("line c4w to m2w");
    demo.pass(5.0);
    demo.runs("corvane-main", "corvane-w", "mid-east");
    demo.order("block signal m2w for Hobbs");
    demo.pass(4.0);
    assertEquals(
        """
        permit of Hobbs on mid-west cannot be granted:
          a train may have accepted the signal of route m2w-t8w
          signal m2w has not been at Stop for long enough yet, 6 s left
        """,
        demo.refused("grant permit to Hobbs on mid-west"));
    demo.pass(6.0);
    demo.order("grant permit to Hobbs on mid-west");
  }

  /** The demo with its power on; over its line lead automatic signals. */
  private static Desk midway() {
    Desk demo = Desk.started(Desk.Railroad.GROWN);
    demo.hears(new Input.DistrictReport("east", Optional.of(false)));
    demo.allClear();
    demo.pass(10.0);
    return demo;
  }

  // A line on which no way is set has no train that comes, whatever is unknown on it.
  @Test
  void isGrantedOnALineOfUnknownSectionsWhereNoWayIsSet() {
    Desk demo = midway();
    demo.unknown("mid-near");
    demo.unknown("mid-west");
    demo.order("grant permit to Hobbs on mid-west");
  }

  // 49 CFR 236.5: a train may run on a signal of before the start.
  @Test
  void isRefusedUntilTheTimeSinceTheStartHasRun() {
    Desk started = Desk.started(Creamery.RAILROAD);
    started.allClear();
    String why = started.refused(GRANT);
    assertTrue(why.contains("the time since the start still runs, 10 s left"), why);
    started.pass(10);
    started.order(GRANT);
  }

  @Test
  void isRefusedWhileAnEmergencyStands() {
    desk.emergency(Emergency.STOP, true);
    assertTrue(desk.refused(GRANT).contains("an emergency stop stands"));
  }

  // Common practice, no source: the crew's own train stands there; both sides must know what does.
  @Test
  void occupiedSectionsMayBeGivenAndAreTold() {
    desk.occupy("yard");
    desk.unknown("y-os");
    assertEquals(
        """
        permit of Way Freight on y-os, yard is granted:
          section y-os has not reported
          section yard is occupied
        """,
        desk.tell(GRANT).explanation().text());
  }

  @Test
  void sectionsAreGivenAllOrNone() {
    desk.order("grant permit to Hobbs on yard");
    String why = desk.refused("grant permit to 'Way Freight' on east, yard");
    assertTrue(why.contains("section yard is under permit of Hobbs"), why);
    desk.order("grant permit to 'Extra Gang' on east");
  }

  @Test
  void isReturnedByNameAndByNoOther() {
    desk.order(GRANT);
    assertEquals(
        """
        nobody named 'Way Frieght' holds a permit:
          did you mean 'Way Freight'?
        """,
        desk.refused("return permit of 'Way Frieght'"));
    assertEquals(
        """
        permit of Way Freight on east cannot be granted:
          permit of Way Freight on y-os, yard stands; return it, or name the other crew
        """,
        desk.refused("grant permit to 'Way Freight' on east"));
    desk.order("return permit of 'Way Freight'");
    assertTrue(desk.refused("return permit of 'Way Freight'").contains("no permit stands"));
  }

  @Test
  void unknownSectionIsToldWithASuggestion() {
    assertEquals(
        """
        there is no section 'yart':
          did you mean 'yard'?
        """,
        desk.refused("grant permit to Hobbs on east, yart"));
    desk.order("line d4e to f");
  }

  // 49 CFR 214.321(b): movements inside are at the holder's word alone.
  @Test
  void switchInsideIsFreeToTheHolderAndLockedForEveryoneElse() {
    desk.order(GRANT);
    String why = desk.refused("throw y1 reverse");
    assertTrue(why.contains("section y-os is under permit of Way Freight"), why);
    assertTrue(
        desk.refused("throw y1 reverse for Hobbs").startsWith("switch y1 is not Hobbs's to throw"));
    assertEquals(List.of(), desk.movements());

    desk.order("throw y1 reverse for 'Way Freight'");
    assertEquals(List.of("y1 reverse"), desk.movements());
    desk.pass(1);
    assertEquals(Optional.of(Position.REVERSE), desk.lie("y1"));

    desk.order("return permit of 'Way Freight'");
    desk.refused("throw y1 normal for 'Way Freight'");
    desk.order("throw y1 normal");
  }

  @Test
  void switchOutsideIsNotTheHolders() {
    desk.order(GRANT);
    String why = desk.refused("throw c3 reverse for 'Way Freight'");
    assertTrue(why.contains("section c-os is under no permit"), why);
    assertFalse(desk.holds("c3"));
  }

  // Detector locking (common practice, no source) holds for the holder too.
  @Test
  void holderDoesNotMoveASwitchUnderATrain() {
    desk.order(GRANT);
    desk.occupy("y-os");
    String why = desk.refused("throw y1 reverse for 'Way Freight'");
    assertTrue(why.contains("section y-os is occupied"), why);
    desk.clear("y-os");
    desk.steady();
    desk.emergency(Emergency.OFF, true);
    desk.refused("throw y1 reverse for 'Way Freight'");
    assertEquals(List.of(), desk.movements());
  }

  // 49 CFR 236.762: the holder does not move a switch on which a route beside the limits relies.
  @Test
  void holderDoesNotMoveAFlankSwitchOfALockedRoute() {
    Desk beside = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    beside.order("grant permit to Hobbs on spur-os, spur");
    beside.line(beside.route("b2e-d"));
    assertTrue(beside.proceeds("b2e"));
    String why = beside.refused("throw f reverse for Hobbs");
    assertTrue(why.contains("route b2e-d is locked"), why);
    assertTrue(beside.proceeds("b2e"));
  }

  @Test
  void routeMayNotAskTheHoldersSwitchToMoveForItsFlank() {
    Desk beside = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    beside.order("grant permit to Hobbs on spur-os, spur");
    beside.order("throw f reverse for Hobbs");
    beside.pass(1);
    beside.movements();
    String why = beside.refused("line b2e to d");
    assertTrue(why.contains("section spur-os is under permit of Hobbs"), why);
    assertEquals(List.of(), beside.movements());
  }

  // H.13: the holder may foul at any time.
  @Test
  void foulingSectionUnderPermitKeepsTheRouteAway() {
    Desk beside = Desk.ready(Siding.LAYOUT, Siding.FOULING_RULES);
    beside.order("grant permit to Hobbs on foul");
    assertTrue(beside.refused("line b2e to d").contains("section foul is under permit of Hobbs"));
    beside.order("return permit of Hobbs");
    beside.line(beside.route("b2e-d"));
    assertTrue(beside.refused("grant permit to Hobbs on foul").contains("route b2e-d is locked"));
  }

  // A route that ends where no signal stands leads on into what lies beyond.
  @Test
  void sectionBeyondAnUnsignalledEndKeepsTheRouteAway() {
    Desk demo = Desk.demo();
    demo.order("grant permit to 'Yard Crew' on yard-throat");
    String why = demo.refused("line c2e to j15");
    assertTrue(why.contains("is under permit of Yard Crew"), why);
    demo.order("return permit of 'Yard Crew'");
    demo.order("line c2e to j15");
    why = demo.refused("grant permit to 'Yard Crew' on yard-throat");
    assertTrue(why.contains("is locked"), why);
  }

  // H.22: checked when a route is lined, and again for as long as its signal proceeds.
  @Test
  void conditionsKnowOfPermits() {
    String rules =
        Creamery.RULES
            + "also:\n  - {signal: b2e, needs: section yard is not under permit or switch c3 is reverse}\n";
    Desk watched = Desk.ready(Creamery.LAYOUT, rules);
    watched.line(watched.route("east-1"));
    assertTrue(watched.proceeds("b2e"));
    watched.order("grant permit to Hobbs on yard");
    assertFalse(watched.proceeds("b2e"));
    watched.order("return permit of Hobbs");
    assertFalse(watched.proceeds("b2e"), "nothing clears by itself");
  }
}
