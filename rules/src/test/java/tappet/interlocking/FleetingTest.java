package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Fleeting: a route is lined again behind each train (glossary B; common practice, no source). */
class FleetingTest {

  @Test
  void signalClearsAgainBehindTheTrainAsSoonAsItsWayIsFree() {
    var desk = Between.desk();
    desk.order("fleet b2e to m2e");
    assertEquals("advance", desk.shows("b2e"));
    desk.runs("west", "mid-1");
    assertEquals("stop", desk.shows("b2e"));
    desk.moves("mid-1", "mid-2");
    assertEquals("approach", desk.shows("b2e"));
  }

  // H.10: without fleeting the signal stays at Stop behind the train.
  @Test
  void unfleetedSignalStaysAtStopBehindTheNextTrain() {
    var desk = Between.desk();
    desk.order("fleet b2e to m2e");
    desk.order("unfleet b2e");
    assertEquals("advance", desk.shows("b2e"));
    desk.runs("west", "mid-1", "mid-2");
    assertEquals("stop", desk.shows("b2e"));
    assertFalse(desk.tell("unfleet b2e").granted());
  }

  @Test
  void routeThatIsLinedAlreadyCanBeFleeted() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.order("fleet b2e to m2e");
    desk.runs("west", "mid-1", "mid-2");
    assertEquals("approach", desk.shows("b2e"));
  }

  @Test
  void cancellingEndsTheFleeting() {
    var desk = Between.desk();
    desk.order("fleet b2e to m2e");
    desk.order("cancel b2e");
    desk.pass(60.0);
    assertEquals("stop", desk.shows("b2e"));
    assertFalse(desk.locked("b2e-m2e"));
  }

  @Test
  void fleetingIsCancelledWhileNoRouteIsLocked() {
    var desk = Between.desk();
    desk.order("fleet b2e to m2e");
    desk.runs("west", "mid-1");
    assertFalse(desk.locked("b2e-m2e"));
    desk.order("cancel b2e");
    desk.moves("mid-1", "mid-2");
    assertEquals("stop", desk.shows("b2e"));
  }

  // Nothing re-clears by itself after an emergency or after something was unknown.
  @Test
  void emergencyAndUnknownSectionsEndTheFleeting() {
    var emergency = Between.desk();
    emergency.order("fleet b2e to m2e");
    emergency.emergency(Emergency.STOP, true);
    emergency.emergency(Emergency.STOP, false);
    emergency.pass(60.0);
    assertEquals(List.of(), emergency.proceeding());

    var unknown = Between.desk();
    unknown.order("fleet b2e to m2e");
    unknown.runs("west", "mid-1");
    unknown.unknown("mid-1");
    unknown.clear("mid-1");
    unknown.steady();
    assertEquals("stop", unknown.shows("b2e"));
  }

  // H.6: of two fleeted routes that become possible at one moment only one is granted.
  @Test
  void twoFleetedRoutesAreNeverGrantedAtOnce() {
    var desk = Between.desk();
    desk.order("fleet c4e to e");
    desk.runs("mid-2", "east-os", "east");
    desk.clear("east");
    desk.steady();
    assertTrue(desk.locked("c4e-e"));
    assertFalse(desk.tell("fleet d2w to m2w").granted());
    desk.order("stack d2w to m2w");
    desk.occupy("east-os");
    desk.pass(1.0);
    desk.occupy("east");
    desk.clear("east-os");
    desk.steady();
    assertTrue(desk.locked("d2w-m2w"));
    assertFalse(desk.locked("c4e-e"));
  }
}
