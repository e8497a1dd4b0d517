package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** 49 CFR 236.312, and its converse: what is open or unlocked and what signals read over it. */
class OpeningTest {

  private static final String DOORWAY =
      """
      openings:
        doorway:
          name: Doorway
          kind: lift-out
          sections: [east-near]
          closed: 0A.00.00.00.00.01.61.01
          open: 0A.00.00.00.00.01.61.00
      """;

  private static final String LOCK =
      """
          locked: 0A.00.00.00.00.01.62.01
          unlocked: 0A.00.00.00.00.01.62.00
          lock time: 3 s
          to: {lock: 0A.00.00.00.00.01.63.01, unlock: 0A.00.00.00.00.01.63.00}
      """;

  // H.8: what has not reported is not closed.
  @ParameterizedTest(name = "closed {0}, locked {1}: lined {2}")
  @CsvSource({
    "true, true, true",
    "true, false, false",
    "true, , false",
    "false, true, false",
    "false, false, false",
    ", true, false",
    ", , false",
  })
  void routeOverItIsLinedOnlyWhileItIsClosedAndLocked(
      Boolean closed, Boolean locked, boolean lined) {
    var desk = Desk.ready(Lane.with(DOORWAY + LOCK, ""));
    report(desk, closed, locked);
    assertEquals(lined, desk.tell("line w2e to f").granted());
    assertEquals(lined, desk.proceeds("w2e"));
  }

  @Test
  void routeThatEndsBeforeItIsGivenWhileItIsOpen() {
    var desk = Desk.ready(Lane.with(DOORWAY + LOCK, ""));
    report(desk, false, false);
    assertTrue(desk.tell("line w0e to w2e").granted());
    assertEquals("approach", desk.shows("w0e"));
    assertFalse(desk.tell("line e0w to e2w").granted());
  }

  @Test
  void openedWithoutLeaveItPutsSignalsToStopForGoodAndIsTold() {
    var desk = closed();
    desk.order("line w2e to f");
    report(desk, false, true);
    assertEquals(List.of(), desk.proceeding());
    var open = "opening doorway (Doorway, a lift-out) is open without leave";
    assertEquals(List.of(open), desk.interlocking.alarms());
    assertTrue(desk.why("doorway").contains(open), desk.why("doorway"));
    assertTrue(desk.why("w2e").contains("(Doorway, a lift-out) is open"), desk.why("w2e"));
    report(desk, true, true);
    desk.pass(60.0);
    assertEquals(List.of(), desk.proceeding());
    assertEquals(List.of(), desk.interlocking.alarms());
    desk.order("line w2e to f");
    assertEquals(List.of("w2e"), desk.proceeding());
  }

  @ParameterizedTest
  @CsvSource({"w2e, f", "e0w, e2w"})
  void itIsNotUnlockedWhileARouteIsLinedOverIt(String from, String to) {
    var desk = closed();
    desk.order("line " + from + " to " + to);
    var answer = desk.tell("unlock doorway");
    assertFalse(answer.granted());
    assertEquals(
        """
        opening doorway (Doorway, a lift-out) cannot be unlocked:
          route %s-%s is locked
        """
            .formatted(from, to),
        answer.explanation().text());
    assertEquals(List.of(), bolts(desk));
  }

  // 236.305: a train that has accepted the signal gets the time to stop first.
  @Test
  void itIsNotUnlockedBeforeACancelledRouteIsReleased() {
    var desk = closed();
    desk.order("line w2e to f");
    desk.order("cancel w2e");
    desk.pass(4.9);
    assertFalse(desk.tell("unlock doorway").granted());
    desk.pass(0.2);
    assertTrue(desk.tell("unlock doorway").granted());
    assertEquals(List.of(new Output.Bolt("doorway", false)), bolts(desk));
  }

  @ParameterizedTest
  @CsvSource({"occupied", "unknown"})
  void itIsNotUnlockedUnderATrain(String occupancy) {
    var desk = closed();
    if (occupancy.equals("occupied")) {
      desk.occupy("east-near");
    } else {
      desk.unknown("east-near");
    }
    assertFalse(desk.tell("unlock doorway").granted());
    desk.clear("east-near");
    desk.steady();
    assertTrue(desk.tell("unlock doorway").granted());
  }

  // 49 CFR 236.312: a train that runs on an automatic signal keeps its authority when the signals
  // of its line are no longer called.
  @ParameterizedTest
  @ValueSource(strings = {"an emergency", "a section that was unknown"})
  void itIsNotUnlockedBeforeATrainOnAnAutomaticSignal(String interruption) {
    var desk =
        Desk.ready(Between.LAYOUT + (DOORWAY + LOCK).replace("east-near", "mid-1"), Between.RULES);
    report(desk, true, true);
    desk.order("line d2w to m2w");
    desk.pass(1.0);
    desk.runs("east", "east-os", "mid-2");
    assertTrue(desk.proceeds("m2w"));
    if (interruption.equals("an emergency")) {
      desk.emergency(Emergency.STOP, true);
      assertFalse(desk.tell("unlock doorway").granted());
      desk.emergency(Emergency.STOP, false);
    } else {
      desk.unknown("mid-2");
      desk.occupy("mid-2");
    }
    assertFalse(desk.proceeds("m2w"));
    var refused = desk.tell("unlock doorway");
    assertFalse(refused.granted());
    assertTrue(
        refused.explanation().text().contains("trains may come west over middle"),
        refused.explanation()::text);
    desk.clear("mid-2");
    desk.steady();
    assertTrue(desk.tell("unlock doorway").granted());
  }

  // It would be opened from under what cannot move away.
  @ParameterizedTest
  @EnumSource(Emergency.class)
  void itIsNotUnlockedWhileAnEmergencyStands(Emergency kind) {
    var desk = closed();
    desk.emergency(kind, true);
    assertFalse(desk.tell("unlock doorway").granted());
    desk.emergency(kind, false);
    assertTrue(desk.tell("unlock doorway").granted());
  }

  // S19.
  @Test
  void itIsNotUnlockedBeforeTheStartTimeHasRun() {
    var desk = Desk.started(Lane.with(DOORWAY + LOCK, ""));
    desk.allClear();
    report(desk, true, true);
    desk.pass(4.9);
    assertFalse(desk.tell("unlock doorway").granted());
    desk.pass(0.2);
    assertTrue(desk.tell("unlock doorway").granted());
  }

  // H.5, H.6: the call to unlock counts at once, and not only when the bolt has moved.
  @Test
  void noRouteIsLinedOverItOnceItIsCalledUnlocked() {
    var desk = closed();
    desk.order("unlock doorway");
    assertFalse(desk.tell("line w2e to f").granted());
    report(desk, true, false);
    assertFalse(desk.tell("line w2e to f").granted());
    desk.order("lock doorway");
    assertFalse(desk.tell("line w2e to f").granted(), "the bolt is not home");
    report(desk, true, true);
    assertTrue(desk.tell("line w2e to f").granted());
  }

  @Test
  void openedWithLeaveItRaisesNoAlarm() {
    var desk = closed();
    desk.order("unlock doorway");
    report(desk, true, false);
    report(desk, false, false);
    desk.pass(60.0);
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  @Test
  void itIsLockedOnlyWhileItIsClosed() {
    var desk = Desk.ready(Lane.with(DOORWAY + LOCK, ""));
    report(desk, false, false);
    var answer = desk.tell("lock doorway");
    assertEquals(
        """
        opening doorway (Doorway, a lift-out) cannot be locked:
          opening doorway (Doorway, a lift-out) is open
        """,
        answer.explanation().text());
    report(desk, true, false);
    assertTrue(desk.tell("lock doorway").granted());
    assertEquals(List.of(new Output.Bolt("doorway", true)), bolts(desk));
  }

  // 236.11.
  @Test
  void boltThatDoesNotFollowIsTold() {
    var desk = closed();
    desk.order("unlock doorway");
    desk.pass(2.9);
    assertEquals(List.of(), desk.interlocking.alarms());
    desk.pass(0.2);
    assertEquals(
        List.of("the lock of opening doorway (Doorway, a lift-out) is out of correspondence"),
        desk.interlocking.alarms());
    report(desk, true, false);
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  @Test
  void openingWithoutALockIsAnAlarmOnlyWhileItIsInUse() {
    var desk = Desk.ready(Lane.with(DOORWAY, ""));
    report(desk, true, null);
    assertEquals(
        "opening doorway (Doorway, a lift-out) has no lock\n",
        desk.tell("unlock doorway").explanation().text());
    report(desk, false, null);
    assertEquals(List.of(), desk.interlocking.alarms());
    assertFalse(desk.tell("line w2e to f").granted());
    report(desk, true, null);
    desk.order("line w2e to f");
    report(desk, false, null);
    assertEquals("stop", desk.shows("w2e"));
    assertEquals(1, desk.interlocking.alarms().size());
  }

  @Test
  void openingThatDoesNotExistIsTold() {
    assertEquals(
        """
        there is no opening 'dorway':
          did you mean 'doorway'?
        """,
        closed().tell("lock dorway").explanation().text());
  }

  @ParameterizedTest
  @CsvSource({
    "opening doorway is closed, true, true, true",
    "opening doorway is closed, false, true, false",
    "opening doorway is not open, , , false", // H.8
    "opening doorway is not closed, false, , true",
    "opening doorway is open, false, , true",
    "opening doorway is open, , , false",
    "opening doorway is locked, , true, true",
    "opening doorway is locked, , , false",
    "opening doorway is not locked, , , false", // H.8
    "opening doorway is unlocked, , false, true",
    "opening doorway is unlocked, , true, false",
  })
  void conditionHoldsOnlyWhereItIsKnownToHold(
      String need, Boolean closed, Boolean locked, boolean granted) {
    var rules = "also: [{signal: w0e, needs: %s}]\n".formatted(need);
    var desk = Desk.ready(Lane.with(DOORWAY + LOCK, rules));
    report(desk, closed, locked);
    assertEquals(granted, desk.tell("line w0e to w2e").granted());
  }

  /** The lane with its doorway closed and locked. */
  private static Desk closed() {
    var desk = Desk.ready(Lane.with(DOORWAY + LOCK, ""));
    report(desk, true, true);
    return desk;
  }

  private static void report(Desk desk, Boolean closed, Boolean locked) {
    desk.hears(new Input.OpeningReport("doorway", Optional.ofNullable(closed)));
    desk.hears(new Input.BoltReport("doorway", Optional.ofNullable(locked)));
  }

  private static List<Output> bolts(Desk desk) {
    return desk.outputs().stream().filter(output -> output instanceof Output.Bolt).toList();
  }
}
