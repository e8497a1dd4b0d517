package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Calling on: the exception of 49 CFR 236.308 for a train that joins another. */
class CallOnTest {

  private static Desk occupiedEast() {
    var desk = Between.desk();
    desk.occupy("east");
    return desk;
  }

  @Test
  void occupiedTrackIsEnteredByTheRestrictingAspectOnly() {
    var desk = occupiedEast();
    assertFalse(desk.tell("line c4e to e").granted());
    desk.order("call on c4e to e");
    assertEquals("restricting", desk.shows("c4e"));
  }

  // C.5.1: the signal before it says what a signal at restricting asks for.
  @Test
  void signalBeforeShowsApproach() {
    var desk = occupiedEast();
    desk.order("line b2e to m2e");
    desk.order("call on c4e to e");
    assertEquals("approach", desk.shows("m2e"));
  }

  // C.5.3: what is called on never shows more, even when the track turns out to be free.
  @Test
  void aspectStaysRestrictingWhenTheTrackBecomesFree() {
    var desk = occupiedEast();
    desk.order("call on c4e to e");
    desk.clear("east");
    desk.pass(30.0);
    assertEquals("restricting", desk.shows("c4e"));
  }

  // 49 CFR 236.303: switches and all other sections are asked for as ever.
  @Test
  void everythingElseIsAskedForAsEver() {
    var desk = occupiedEast();
    desk.occupy("east-os");
    assertFalse(desk.tell("call on c4e to e").granted());
    desk.clear("east-os");
    desk.steady();
    desk.order("call on c4e to e");
    desk.moving("e1");
    assertEquals("stop", desk.shows("c4e"));
  }

  @Test
  void rulesMustNameTheException() {
    var desk = Between.desk();
    desk.occupy("pocket");
    var refused = desk.tell("call on c4e to h");
    assertFalse(refused.granted());
    assertEquals(
        """
        route c4e-h cannot be called on:
          the rules do not let route c4e-h call a train on
        """,
        refused.explanation().text());
  }

  @Test
  void routeIsReleasedBehindTheTrain() {
    var desk = occupiedEast();
    desk.order("call on c4e to e");
    desk.occupy("east-os");
    assertEquals("stop", desk.shows("c4e"));
    desk.pass(5.0);
    assertTrue(desk.locked("c4e-e"));
    desk.clear("east-os");
    desk.steady();
    assertFalse(desk.locked("c4e-e"));
  }

  @Test
  void unusedCallIsCancelledWithItsTime() {
    var desk = occupiedEast();
    desk.order("call on c4e to e");
    desk.order("cancel c4e");
    desk.pass(7.9);
    assertTrue(desk.locked("c4e-e"));
    desk.pass(0.2);
    assertFalse(desk.locked("c4e-e"));
    desk.clear("east");
    desk.steady();
    desk.order("line c4e to e");
    assertEquals("approach", desk.shows("c4e"));
  }

  // Two trains are never called into one track from both of its ends.
  @Test
  void trackThatIsHeldIsNotCalledInto() {
    var desk = Between.desk();
    desk.order("line c4e to e");
    assertFalse(desk.tell("call on c4e to e").granted());
  }
}
