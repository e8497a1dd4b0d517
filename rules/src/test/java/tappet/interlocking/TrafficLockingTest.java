package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;
import static tappet.layout.Position.REVERSE;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Traffic locking: trains run over a line one way at a time, however many follow each other. */
class TrafficLockingTest {

  // 49 CFR 236.769: the direction of a track is set by the authority into it.
  @Test
  void liningARouteIntoTheLineSetsItsTraffic() {
    var desk = Between.desk();
    assertEquals("traffic on middle is set neither way\n", desk.why("middle"));
    desk.order("line b2e to m2e");
    assertEquals("traffic on middle is set east:\n  route b2e-m2e is locked\n", desk.why("middle"));
  }

  // 49 CFR 236.404, 236.405, F.1 S11, H.1: opposing routes with equal switch positions.
  @Test
  void nothingIsLinedAgainstTheTraffic() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    var refused = desk.tell("line d2w to m2w");
    assertFalse(refused.granted());
    assertTrue(
        refused.explanation().text().contains("traffic on middle is set east"),
        refused.explanation()::text);
  }

  // 49 CFR 236.405: occupancy between opposing signals holds the direction that was set.
  @Test
  void trainOnTheLineKeepsItsDirection() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.runs("west", "mid-1");
    desk.pass(600.0);
    assertFalse(desk.tell("line d2w to m2w").granted());
    desk.moves("mid-1", "mid-2");
    assertFalse(desk.tell("line d2w to m2w").granted());
    desk.order("line c4e to e");
    desk.moves("mid-2", "east-os");
    assertEquals("traffic on middle is set neither way\n", desk.why("middle"));
  }

  // F.1 S11: as long as approach locking runs at either end, the direction does not change.
  @Test
  void directionStaysWhileACancelledRouteIsReleased() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.order("cancel b2e");
    desk.pass(7.9);
    assertFalse(desk.tell("line d2w to m2w").granted());
    desk.pass(0.2);
    desk.order("line d2w to m2w");
  }

  // 49 CFR 236.204, 236.205: automatic signals clear with the traffic, and only with a clear block.
  @Test
  void automaticSignalsFollowTheTrafficAndTheirBlocks() {
    var desk = Between.desk();
    assertEquals(List.of(), desk.proceeding());
    desk.order("line b2e to m2e");
    assertEquals(List.of("b2e", "m2e"), desk.proceeding());
    desk.occupy("mid-2");
    assertEquals("stop", desk.shows("m2e"));
    assertEquals("approach", desk.shows("b2e"));
  }

  // 49 CFR 236.204: those against a train are at Stop before it enters the single track.
  @Test
  void opposingAutomaticSignalIsAtStopAheadOfTheTrain() {
    var desk = Between.desk();
    desk.order("line d2w to m2w");
    desk.pass(1.0);
    assertEquals(List.of("m2w", "d2w"), desk.proceeding());
    assertEquals("stop", desk.shows("m2e"));
  }

  // Following moves: the second train is lined in as soon as the first block is vacant.
  @Test
  void trainsFollowEachOtherBlockByBlock() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.runs("west", "mid-1");
    assertFalse(desk.tell("line b2e to m2e").granted());
    desk.moves("mid-1", "mid-2");
    desk.order("line b2e to m2e");
    assertEquals("approach", desk.shows("b2e"));
    assertEquals("stop", desk.shows("m2e"));
  }

  // C.2: the ladder reaches through several blocks and never skips a step toward Stop.
  @Test
  void ladderReachesThroughTheBlocks() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    assertEquals("approach", desk.shows("m2e"));
    assertEquals("advance", desk.shows("b2e"));
    desk.order("line c4e to e");
    assertEquals("approach", desk.shows("c4e"));
    assertEquals("advance", desk.shows("m2e"));
    assertEquals("clear", desk.shows("b2e"));
  }

  // F.4: both ends request at once; the order of requests decides, and one is refused.
  @Test
  void ofTwoRequestsFromBothEndsOneIsGranted() {
    var desk = Between.desk();
    desk.order("line d2w to m2w");
    assertFalse(desk.tell("line b2e to m2e").granted());
    assertEquals("stop", desk.shows("b2e"));
  }

  // F.1 S19: after a restart the direction of a train on the line is not known.
  @Test
  void occupiedLineOfUnknownDirectionIsClosedBothWays() {
    var desk = Between.desk();
    desk.occupy("mid-2");
    var refused = desk.tell("line b2e to m2e");
    assertFalse(refused.granted());
    assertTrue(
        refused.explanation().text().contains("section mid-2 is occupied"),
        refused.explanation()::text);
    assertFalse(desk.tell("line d2w to m2w").granted());
  }

  // 49 CFR 236.405: the dispatcher says which way, and blocks still keep trains apart.
  @Test
  void dispatcherSaysWhichWayAnOccupiedLineIsRun() {
    var desk = Between.desk();
    desk.occupy("mid-1");
    desk.order("set traffic middle east");
    assertEquals(List.of("m2e"), desk.proceeding());
    assertFalse(desk.tell("set traffic middle west").granted());
    assertFalse(desk.tell("line d2w to m2w").granted());
    desk.occupy("mid-2");
    assertEquals(List.of(), desk.proceeding());
  }

  @Test
  void trafficOfAnEmptyLineIsSetByLiningOnly() {
    var desk = Between.desk();
    var refused = desk.tell("set traffic middle east");
    assertFalse(refused.granted());
    var unknown = desk.tell("set traffic midle east");
    assertEquals("there is no line 'midle'", unknown.explanation().clause());
    assertTrue(unknown.explanation().text().contains("middle"), unknown.explanation()::text);
  }

  // After an emergency nothing clears again by itself, automatic signals included.
  @Test
  void automaticSignalsStayAtStopAfterAnEmergency() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.runs("west", "mid-1");
    assertEquals("approach", desk.shows("m2e"));
    desk.emergency(Emergency.STOP, true);
    assertEquals("stop", desk.shows("m2e"));
    desk.emergency(Emergency.STOP, false);
    desk.pass(60.0);
    assertEquals("stop", desk.shows("m2e"));
    desk.order("set traffic middle east");
    assertEquals("approach", desk.shows("m2e"));
  }

  // 49 CFR 236.5: what was unknown does not clear a signal when it is known again.
  @Test
  void automaticSignalsStayAtStopAfterSomethingWasUnknown() {
    var desk = Between.desk();
    desk.order("line b2e to m2e");
    desk.runs("west", "mid-1");
    desk.unknown("mid-2");
    desk.clear("mid-2");
    desk.steady();
    assertEquals("stop", desk.shows("m2e"));
    assertTrue(desk.why("m2e").contains("or was interrupted"), desk.why("m2e"));
    desk.order("set traffic middle east");
    assertEquals("approach", desk.shows("m2e"));
  }

  @Test
  void automaticSignalIsNotLined() {
    var refused = Between.desk().tell("line m2e to c4e");
    assertFalse(refused.granted());
    assertEquals(
        "signal m2e is automatic:\n  it clears by itself when its traffic is set\n",
        refused.explanation().text());
  }

  // C.5.2: of an automatic signal, too, the explanation names what would have to change.
  @Test
  void whyTellsOfTrafficAndBlock() {
    var desk = Between.desk();
    assertEquals(
        """
        signal m2e shows stop:
          route m2e-c4e is automatic, but:
            its signal has not been called since traffic on middle was set, or was interrupted
            traffic on middle is not set east
        """,
        desk.why("m2e"));
    desk.order("line b2e to m2e");
    desk.occupy("mid-2");
    assertEquals(
        """
        signal m2e shows stop:
          route m2e-c4e is automatic, but:
            section mid-2 is occupied
        """,
        desk.why("m2e"));
  }

  @Test
  void conditionsMayAskForTheTraffic() {
    var desk =
        Between.desk(
            "{from: b4w, to: a, clear: [west],",
            "{from: b4w, to: a, clear: [west], needs: traffic middle is west,");
    assertFalse(desk.tell("line b4w to a").granted());
    desk.order("line d2w to m2w");
    desk.order("line b4w to a");
  }

  // 49 CFR 236.405, F.1 S11: a train in a spur on the line is not seen, and comes out the way that
  // is set.
  @Test
  void trafficStaysWhileTheSwitchOfASpurLiesForTheSpur() {
    var desk = Between.spurred();
    desk.order("line b2e to m2e");
    desk.runs("west", "mid-1", "mid-2");
    desk.order("release q1 to 'Way Freight'");
    desk.lies("q1", REVERSE);
    desk.moves("mid-2", "spur");
    desk.clear("spur");
    desk.pass(600.0);
    assertEquals(
        """
        traffic on middle is set east:
          switch q1 is not detected normal
          the lock of switch q1 is not detected secured
          switch q1 is released
        """,
        desk.why("middle"));
    var refused = desk.refused("line d2w to m2w");
    assertTrue(refused.contains("traffic on middle is set east"), refused);
    assertFalse(desk.tell("set traffic middle west").granted());

    desk.lies("q1", NORMAL);
    assertTrue(desk.why("middle").startsWith("traffic on middle is set east"), "not yet secured");
    desk.order("secure q1");
    assertEquals("traffic on middle is set neither way\n", desk.why("middle"));
    desk.order("line d2w to m2w");
  }

  // A switch on the line is locked by the traffic, for an automatic signal leads over it.
  @Test
  void switchUnderAnAutomaticSignalIsLockedByTheTraffic() {
    var desk = Throat.automatic();
    assertFalse(desk.holds("s2"));
    desk.order("line a2e to m2e");
    assertTrue(desk.holds("s2"));
    desk.runs("near", "first", "middle");
    assertTrue(desk.holds("s2"));
    assertEquals(NORMAL, desk.lie("s2").orElseThrow());
    desk.moves("middle", "second");
    desk.moves("second", "last");
    assertTrue(desk.holds("s2"));
    desk.clear("last");
    desk.steady();
    assertFalse(desk.holds("s2"));
  }
}
