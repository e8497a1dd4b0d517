package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;
import static tappet.layout.Position.REVERSE;

import java.util.List;
import org.junit.jupiter.api.Test;

/** H.13: not only the section under the switch counts. */
class FlankAndFoulingTest {

  // Flank protection: common practice, no source.
  @Test
  void flankSwitchIsSentAndAwaitedBeforeTheSignalClears() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    desk.lies("f", REVERSE);
    desk.movements();
    desk.order("line b2e to d");
    assertEquals("stop", desk.shows("b2e"));
    assertEquals(List.of("f normal"), desk.movements());
    desk.pass(1.0);
    assertEquals("approach", desk.shows("b2e"));
  }

  // 49 CFR 236.303; H.22: protection counts for as long as the signal shows, not only when lined.
  @Test
  void flankSwitchThatLeavesItsPositionPutsTheSignalToStopForGood() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    desk.order("line b2e to d");
    assertEquals("approach", desk.shows("b2e"));
    desk.moving("f");
    assertEquals("stop", desk.shows("b2e"));
    desk.lies("f", NORMAL);
    assertEquals("stop", desk.shows("b2e"));
  }

  @Test
  void flankSwitchIsLockedUntilTheRouteIsGone() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    desk.order("line b2e to d");
    assertFalse(desk.tell("throw f reverse").granted());
    assertFalse(desk.tell("line e2e to k").granted());
    assertTrue(desk.tell("line e2e to h").granted());
    desk.runs("west", "main", "east");
    assertFalse(desk.locked("b2e-d"));
    desk.order("cancel e2e");
    desk.pass(5.0);
    assertTrue(desk.tell("throw f reverse").granted());
  }

  // F.1 S3: a switch is not moved under a train, not even back to where it was called: it may have
  // been moved by hand since.
  @Test
  void flankSwitchUnderATrainIsNeverSent() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FLANK_RULES);
    desk.order("throw f normal");
    desk.lies("f", REVERSE);
    desk.occupy("spur-os");
    desk.movements();
    assertFalse(desk.tell("line b2e to d").granted());
    assertEquals(List.of(), desk.movements());

    desk.lies("f", NORMAL);
    desk.order("line b2e to d");
    assertEquals(List.of(), desk.movements());
    assertEquals("approach", desk.shows("b2e"));
  }

  // 49 CFR 236.57, 236.58: the fouling section counts like the track itself.
  @Test
  void occupiedFoulingSectionHoldsTheSignalAtStop() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FOULING_RULES);
    desk.occupy("foul");
    assertFalse(desk.tell("line b2e to d").granted());
    desk.clear("foul");
    desk.steady();
    desk.order("line b2e to d");
    assertEquals("approach", desk.shows("b2e"));
    desk.occupy("foul");
    assertEquals("stop", desk.shows("b2e"));
  }

  // 49 CFR 236.308, 236.773: a movement into the fouling section conflicts before it gets there.
  @Test
  void routeIntoTheFoulingSectionIsNotLinedTogetherWithTheMain() {
    var desk = Desk.ready(Siding.LAYOUT, Siding.FOULING_RULES);
    desk.order("line b2e to d");
    assertFalse(desk.tell("line e2e to k").granted());
    assertTrue(desk.tell("line e2e to h").granted());

    var other = Desk.ready(Siding.LAYOUT, Siding.FOULING_RULES);
    other.order("line e2e to k");
    assertFalse(other.tell("line b2e to d").granted());
  }
}
