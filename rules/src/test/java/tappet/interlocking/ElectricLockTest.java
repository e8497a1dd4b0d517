package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;
import static tappet.layout.Position.REVERSE;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.LockState;

/** Hand-thrown switches under an electric lock; H.17. */
class ElectricLockTest {

  private final Desk desk = Kinds.desk();

  // 49 CFR 236.410: with the approach clear on both sides there is nobody to wait for.
  @Test
  void lockIsReleasedAtOnceWhenNobodyComes() {
    desk.order("release quarry to 'Extra 41'");
    assertEquals(List.of("quarry released"), orders());
  }

  // 49 CFR 236.207, 236.410, F.1 S15: a train in the approach may run on a signal taken away.
  @ParameterizedTest
  @ValueSource(strings = {"west", "mid"})
  void lockIsReleasedWhenTimeHasRunWithATrainInTheApproach(String section) {
    desk.occupy(section);
    desk.order("release quarry");
    desk.pass(7.9);
    assertEquals(List.of(), orders());
    desk.pass(0.1);
    assertEquals(List.of("quarry released"), orders());
  }

  // 49 CFR 214.321: inside a permit only its holder has switches thrown.
  @Test
  void lockInsideAPermitIsReleasedToItsHolderAlone() {
    desk.order("grant permit to 'Way Freight' on quarry-track");
    for (String asked : List.of("release quarry", "release quarry to 'Extra 41'")) {
      String why = desk.refused(asked);
      assertTrue(why.contains("section quarry-track is under permit of Way Freight"), why);
    }
    desk.pass(60.0);
    assertEquals(List.of(), orders());
    desk.order("release quarry to 'Way Freight'");
    assertEquals(List.of("quarry released"), orders());
  }

  // 49 CFR 214.321: what was asked for before it does not open inside it.
  @Test
  void noPermitIsGrantedWhileAReleaseRuns() {
    desk.occupy("west");
    desk.order("release quarry to 'Extra 41'");
    String grant = "grant permit to 'Way Freight' on quarry-track";
    assertTrue(desk.refused(grant).contains("switch quarry is to be released"));
    desk.pass(8.0);
    String agreed = desk.tell(grant).explanation().text();
    assertTrue(agreed.contains("switch quarry is released to Extra 41"), agreed);
  }

  // Common practice, no source: one crew at a time has a switch.
  @Test
  void switchThatSomebodyHasIsNotReleasedToSomebodyElse() {
    desk.order("release quarry to 'Extra 41'");
    String why = desk.refused("release quarry to 'Extra 57'");
    assertTrue(why.contains("switch quarry is released to Extra 41"), why);
    assertTrue(why.contains("secure it first"), why);
    desk.order("secure quarry");
    desk.order("release quarry to 'Extra 57'");
  }

  // 49 CFR 236.5: a lock that was open before a restart holds nothing until it is found to.
  @Test
  void whoHadASwitchBeforeARestartIsNotForgotten() {
    desk.order("release quarry to 'Extra 41'");
    assertEquals(Map.of("quarry", "Extra 41"), desk.interlocking.releases());

    var after = Desk.withReleases(Kinds.RAILROAD, desk.interlocking.releases());
    after.layout.sections().keySet().forEach(after::clear);
    after.layout.switches().keySet().forEach(id -> after.lies(id, NORMAL));
    after.lock("quarry", LockState.RELEASED);
    after.pass(60.0);
    String had = "Extra 41 had it before the start";
    assertTrue(after.why("quarry").contains(had), after.why("quarry"));
    assertFalse(after.tell("line a2e to c2e").granted());
    assertTrue(after.refused("release quarry to 'Extra 57'").contains(had));
    assertEquals(List.of(), orders(after));

    after.lock("quarry", LockState.SECURED);
    assertEquals(Map.of(), after.interlocking.releases());
    after.order("line a2e to c2e");
  }

  // 49 CFR 236.5: an order that may not have been heard is said again only as far as it is safe.
  @Test
  void ordersToTheLockHoldAsLongAsNothingSpeaksAgainstThem() {
    assertEquals(List.of(), desk.interlocking.lockOrders());
    desk.order("release quarry");
    assertEquals(
        List.of(new Output.Lock("quarry", LockState.RELEASED)), desk.interlocking.lockOrders());
    desk.order("block section quarry-track for 'Way'");
    assertEquals(List.of(), desk.interlocking.lockOrders(), "people have it as it lies");
    desk.order("unblock section quarry-track");
    desk.order("secure quarry");
    assertEquals(
        List.of(new Output.Lock("quarry", LockState.SECURED)), desk.interlocking.lockOrders());
  }

  // H.9: a release asked for before a restart is asked for anew, and waits for its whole time.
  @Test
  void lockWaitsForItsWholeTimeAfterARestart() {
    desk.occupy("west");
    desk.order("release quarry");
    desk.pass(7.0);

    var after = Desk.ready(Kinds.RAILROAD);
    after.occupy("west");
    after.pass(60.0);
    assertEquals(List.of(), orders(after));
    after.order("release quarry");
    after.pass(7.9);
    assertEquals(List.of(), orders(after));
    after.pass(0.1);
    assertEquals(List.of("quarry released"), orders(after));
  }

  // 49 CFR 236.207, 236.410: signals of both directions; H.17.
  @ParameterizedTest
  @ValueSource(strings = {"a2e to c2e", "b2w to y"})
  void lockIsNotReleasedUnderALinedRoute(String route) {
    desk.order("line " + route);
    desk.pass(1.0);
    assertTrue(desk.proceeds(route.substring(0, 3)));
    var answer = desk.tell("release quarry");
    assertFalse(answer.granted());
    assertTrue(answer.explanation().text().contains("section quarry-track is held by route"));
    desk.order("cancel " + route.substring(0, 3));
    assertFalse(desk.tell("release quarry").granted(), "time locking has not run");
    desk.pass(60.0);
    assertEquals(List.of(), orders());
    desk.order("release quarry");
    assertEquals(List.of("quarry released"), orders());
  }

  // 49 CFR 236.16: the train that stands at the switch unlocks it without waiting.
  @Test
  void trainOnTheReleaseSectionGetsItAtOnce() {
    desk.order("line a2e to c2e");
    desk.pass(1.0);
    desk.occupy("west");
    desk.moves("west", "quarry-track");
    desk.order("release quarry to 'Extra 41'");
    assertEquals(List.of("quarry released"), orders());
    assertFalse(desk.proceeds("a2e"));
  }

  // 49 CFR 236.16: but not while something else is in the approach.
  @Test
  void trainOnTheReleaseSectionWaitsWhileAnotherIsInTheApproach() {
    desk.occupy("quarry-track");
    desk.occupy("mid");
    desk.order("release quarry");
    assertEquals(List.of(), orders());
    desk.pass(8.0);
    assertEquals(List.of("quarry released"), orders());
  }

  // 49 CFR 236.203, 236.207: from the moment it is asked for no route is lined over it.
  @ParameterizedTest
  @ValueSource(strings = {"a2e to c2e", "b2w to y", "q2w to y"})
  void noRouteIsLinedOverAReleasedSwitch(String route) {
    desk.occupy("spur");
    desk.occupy("mid");
    desk.order("release quarry");
    desk.clear("mid");
    desk.pass(2.5);
    assertFalse(desk.tell("line " + route).granted());
    desk.pass(8.0);
    assertFalse(desk.tell("line " + route).granted());
  }

  // 49 CFR 236.314, 236.410: the signals over it clear when it is secured, and detected so.
  @Test
  void signalWaitsUntilTheLockIsDetectedSecured() {
    desk.order("release quarry to 'Extra 41'");
    desk.lies("quarry", REVERSE);
    desk.lies("d1", REVERSE);
    desk.lies("quarry", NORMAL);
    desk.lies("d1", NORMAL);
    desk.stuck("quarry");
    desk.order("secure quarry");
    assertEquals(List.of("quarry released", "quarry secured"), orders());
    assertFalse(desk.tell("line a2e to c2e").granted());
    desk.lock("quarry", LockState.SECURED);
    desk.order("line a2e to c2e");
    assertTrue(desk.proceeds("a2e"));
  }

  // H.17, 49 CFR 236.205: secured reverse it lets the other route clear, with its derail off.
  @Test
  void securedReverseItServesTheRouteThatNeedsItSo() {
    desk.order("release quarry");
    desk.lies("quarry", REVERSE);
    var answer = desk.tell("secure quarry");
    assertFalse(answer.granted(), "its derail still stands in the way");
    desk.lies("d1", REVERSE);
    desk.order("secure quarry");
    desk.order("line q2w to y");
    assertTrue(desk.proceeds("q2w"));
    assertFalse(desk.tell("line a2e to c2e").granted());
  }

  // H.17, 49 CFR 236.6, 236.11: opened without leave: Stop and an alarm, and no clearing by itself.
  @Test
  void lockOpenedWithoutLeavePutsItsSignalsToStop() {
    desk.order("line a2e to c2e");
    desk.lock("quarry", LockState.RELEASED);
    assertEquals("stop", desk.shows("a2e"));
    assertEquals(
        List.of("the lock of switch quarry was opened without leave"), desk.interlocking.alarms());
    desk.lock("quarry", LockState.SECURED);
    assertEquals(List.of(), desk.interlocking.alarms());
    assertEquals("stop", desk.shows("a2e"));
  }

  // H.17, 49 CFR 236.5: a lock that says secured over a switch that was thrown is not believed.
  @Test
  void switchThrownWithoutLeaveIsNotTrustedInItsNewPosition() {
    desk.lies("quarry", REVERSE);
    desk.lies("d1", REVERSE);
    assertEquals(
        List.of("switch quarry was thrown without leave, having stood normal"),
        desk.interlocking.alarms());
    assertFalse(desk.tell("line q2w to y").granted());
  }

  // 49 CFR 236.11: a lock that does not follow is told.
  @Test
  void lockThatDoesNotFollowIsTold() {
    desk.stuck("quarry");
    desk.order("release quarry");
    desk.pass(4.0);
    assertEquals(
        List.of("the lock of switch quarry is not as it should be"), desk.interlocking.alarms());
  }

  // H.8, 49 CFR 236.5: a lock that has not reported holds nothing.
  @Test
  void unknownLockHoldsTheSignalAtStop() {
    desk.order("line a2e to c2e");
    desk.lockUnknown("quarry");
    assertEquals("stop", desk.shows("a2e"));
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  @Test
  void whyTellsToWhomItIsReleased() {
    desk.order("release quarry to 'Extra 41'");
    assertEquals(
        """
        switch quarry lies normal:
          it is thrown by hand when it is released
          switch quarry is released to Extra 41
        """,
        desk.why("quarry"));
    desk.occupy("west");
    desk.order("secure quarry");
    desk.order("release quarry to 'Mill Turn'");
    assertEquals(
        """
        switch quarry lies normal:
          it is thrown by hand when it is released
          the lock of switch quarry is secured
          its release time runs, 8 s left
        """,
        desk.why("quarry"));
    assertEquals(
        "switch quarry is not thrown by the dispatcher",
        desk.tell("throw quarry reverse").explanation().clause());
    assertEquals(
        "there is no electric lock on switch 'h1'", desk.tell("release h1").explanation().clause());
  }

  // A lock without detection is taken to hold some time after it was told to, and never before.
  @Test
  void lockWithoutDetectionIsAssumedAfterItsTime() {
    var undetected = withoutDetection();
    assertFalse(undetected.tell("line a2e to c2e").granted());
    undetected.order("secure quarry");
    undetected.pass(1.9);
    assertFalse(undetected.tell("line a2e to c2e").granted());
    undetected.pass(0.1);
    undetected.order("line a2e to c2e");
    assertTrue(undetected.proceeds("a2e"));
    assertEquals(
        List.of(
            "the lock of switch quarry has no detection: it is assumed to hold when told to,"
                + " after 2 s",
            "switch u1 has no detection: it is assumed to lie where it was sent, after 4 s"),
        undetected.interlocking.assumptions());
  }

  // 49 CFR 236.5: an order that may not have arrived is not assumed; the lock is told once more.
  @Test
  void lockWithoutDetectionIsForgottenWithItsBoardUntilItIsToldAgain() {
    var undetected = withoutDetection();
    undetected.order("secure quarry");
    undetected.pass(1.0);
    undetected.lockUnknown("quarry");
    undetected.pass(60.0);
    assertFalse(undetected.tell("line a2e to c2e").granted());
    assertEquals(
        List.of("the lock of switch quarry is not as it should be"),
        undetected.interlocking.alarms());

    undetected.order("secure quarry");
    undetected.pass(2.0);
    undetected.order("line a2e to c2e");
    assertTrue(undetected.proceeds("a2e"));
    undetected.lockUnknown("quarry");
    assertEquals("stop", undetected.shows("a2e"));
  }

  // Without power nothing follows an order, and nobody can tell.
  @Test
  void lockWithoutDetectionIsNotAssumedToHoldByWhatItWasToldWithoutPower() {
    var undetected = withoutDetection();
    undetected.order("secure quarry");
    undetected.emergency(Emergency.OFF, true);
    undetected.pass(60.0);
    undetected.emergency(Emergency.OFF, false);
    undetected.pass(60.0);
    assertFalse(undetected.tell("line a2e to c2e").granted());
  }

  /**
   * A spur on a ring that is run one way round.
   *
   * <pre>
   *   ┌─ q2 ◄── far ── tie ── north ── p1 ◄┐
   *   └──────────────── south ────────────┘
   * </pre>
   */
  private static final String RING =
      Kinds.withEvents(
          """
          layout: 1
          name: A ring
          joints: {a: [0, 0], b: [2, 0], c: [3, 0], d: [5, 0], s: [3, 1], e: [5, 1]}
          sections:
            north: {between: [a, b], length: 1 m, occupied: §, clear: §}
            tie-os: {length: 30 cm, occupied: §, clear: §}
            far: {between: [c, d], length: 1 m, occupied: §, clear: §}
            south: {between: [d, a], length: 1 m, occupied: §, clear: §}
            spur: {between: [s, e], length: 1 m, occupied: §, clear: §}
          switches:
            tie:
              section: tie-os
              points: b
              normal: c
              reverse: s
              control: released
              lock: {to: {release: §, secure: §}, at: {released: §, secured: §}}
              at: {normal: §, reverse: §}
          signals:
            p1: {at: a, into: north, shows: {stop: §, approach: §}}
            q2: {at: d, into: south, shows: {stop: §, approach: §}}
          """);

  private static final String RING_RULES =
      """
      rules: 1
      times: {loss of shunt: 2 s, start: 10 s}
      routes:
        - {from: p1, to: q2, switches: {tie: normal}, speed: main, automatic: yes}
        - {from: q2, to: p1, speed: main, automatic: yes}
      traffic: [{line: ring, sections: [north, tie-os, far, south], eastward: [p1, q2]}]
      aspects: {main: {beyond stop: approach, beyond approach: approach}}
      locks: [{switch: tie, release time: 8 s, approach: [north, far]}]
      """;

  // 49 CFR 236.207, 236.410: its authority stays with a train whose signal is called no more.
  @Test
  void lockIsNotReleasedBeforeATrainThatRunsOnAnAutomaticSignal() {
    var ring = Desk.ready(RING, RING_RULES);
    ring.order("set traffic ring east");
    assertTrue(ring.proceeds("p1"));
    ring.occupy("north");
    ring.unknown("south");
    ring.clear("south");
    ring.pass(60.0);
    assertFalse(ring.proceeds("p1"));
    String why = ring.refused("release tie");
    assertTrue(why.contains("section north"), why);
    assertEquals(List.of(), orders(ring));
  }

  private static Desk withoutDetection() {
    String layout =
        Kinds.LAYOUT.replaceAll("(lock: .*), at: \\{released: .*\\}\\}", "$1, assumed after: 2 s}");
    return Desk.ready(layout, Kinds.RULES);
  }

  /** What locks were told since this was last asked, such as {@code quarry released}. */
  private List<String> orders() {
    return orders(desk);
  }

  private static List<String> orders(Desk given) {
    return given.outputs().stream()
        .filter(Output.Lock.class::isInstance)
        .map(Output.Lock.class::cast)
        .map(order -> order.switchId() + " " + order.state().word())
        .toList();
  }
}
