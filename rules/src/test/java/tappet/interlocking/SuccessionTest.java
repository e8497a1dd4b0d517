package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import tappet.interlocking.Desk.Railroad;
import tappet.layout.LockState;
import tappet.layout.Position;

/**
 * New files while trains run. Where no clause is named: 49 CFR 236.4, from memory, since nobody may
 * interfere with the working of a device before the safety of trains is seen to.
 */
class SuccessionTest {

  private static final String WEST_ROW = "to: y, clear: [west, outer], speed: main, release: 8 s";
  private static final String EAST_ROW =
      "{from: c4e, to: h, switches: {e1: reverse}, clear: [east-os, pocket], speed: main, release: 8 s}";

  private static final String DEVICES =
      """
      lamps:
        free: {lit: 0A.00.00.00.00.01.71.01, dark: 0A.00.00.00.00.01.71.00}
      """;

  private static Railroad with(String rule, String otherwise) {
    assertTrue(Between.OVERLAPPED_RULES.contains(rule), rule);
    return Railroad.read(
        Between.OVERLAPPED_LAYOUT, Between.OVERLAPPED_RULES.replace(rule, otherwise));
  }

  private static Railroad withWestRow(String otherwise) {
    return with(WEST_ROW, WEST_ROW.replace("release: 8 s", otherwise));
  }

  @Test
  void sameFilesChangeNothing() {
    var desk = Between.overlapped();
    desk.line(desk.route("c4e-e"));
    desk.movements();
    assertEquals(List.of(), desk.reload(Between.OVERLAPPED));
    assertEquals(List.of(), desk.outputs());
    assertEquals("approach", desk.shows("c4e"));
    desk.runs("mid-2", "east-os", "east");
    assertFalse(desk.locked("c4e-e"));
  }

  @Test
  void trainElsewhereRunsOnUnderItsSignals() {
    var desk = Between.overlapped();
    desk.line(desk.route("b2e-m2e"));
    desk.runs("west", "mid-1");
    desk.movements();
    var before = desk.proceeding();
    assertEquals(List.of("m2e"), before);
    assertEquals(List.of(), desk.reload(withWestRow("release: 9 s")));
    assertEquals(List.of(), desk.outputs());
    assertEquals(before, desk.proceeding());
    desk.moves("mid-1", "mid-2");
    assertEquals("stop", desk.shows("m2e"));
  }

  @Test
  void lockedRouteWhoseRowHasChangedStandsAgainstIt() {
    var desk = Between.overlapped();
    desk.line(desk.route("b4w-y"));
    assertEquals(
        List.of("rules.yaml:12:5: route b4w-y is locked, and route b4w-y has changed"),
        desk.reload(withWestRow("release: 9 s")));
    assertEquals("approach", desk.shows("b4w"));
    desk.order("cancel b4w");
    desk.pass(7.9);
    assertEquals(1, desk.reload(withWestRow("release: 9 s")).size());
    desk.pass(0.2);
    assertEquals(List.of(), desk.reload(withWestRow("release: 9 s")));
  }

  // 236.305: a time that a train is given is given in full, and not twice.
  @Test
  void releaseTimeElsewhereRunsOn() {
    var desk = Between.overlapped();
    desk.line(desk.route("c4e-e"));
    desk.occupy("mid-2");
    desk.order("cancel c4e");
    desk.pass(5.0);
    assertEquals(List.of(), desk.reload(withWestRow("release: 9 s")));
    desk.pass(2.9);
    assertTrue(desk.locked("c4e-e"));
    desk.pass(0.2);
    assertFalse(desk.locked("c4e-e"));
  }

  @Test
  void newRowCanBeUsed() {
    var desk = Desk.ready(with("  - " + EAST_ROW + "\n", ""));
    assertTrue(desk.refused("line c4e to h").contains("no route leads"));
    assertEquals(List.of(), desk.reload(Between.OVERLAPPED));
    desk.line(desk.route("c4e-h"));
    assertEquals("approach", desk.shows("c4e"));
  }

  /** The switch that a new row moves is locked by another row, which the switch must ask too. */
  @Test
  void newRowWaitsForRoutesOverWhatItUses() {
    var desk = Desk.ready(with("  - " + EAST_ROW + "\n", ""));
    desk.line(desk.route("c4e-e"));
    var against = desk.reload(Between.OVERLAPPED);
    assertTrue(
        against.stream().anyMatch(reason -> reason.contains("route c4e-e is locked")),
        against::toString);
    desk.runs("mid-2", "east-os", "east");
    assertEquals(List.of(), desk.reload(Between.OVERLAPPED));
  }

  @Test
  void rowThatIsGoneCanBeAskedForNoMore() {
    var desk = Between.overlapped();
    desk.line(desk.route("c4e-h"));
    var files = with("  - " + EAST_ROW + "\n", "");
    assertTrue(desk.reload(files).get(0).contains("is gone"), desk.reload(files)::toString);
    desk.runs("mid-2", "east-os", "pocket");
    assertEquals(List.of(), desk.reload(files));
    assertTrue(desk.refused("line c4e to h").contains("no route leads"));
  }

  @Test
  void stackedRouteWaitsOn() {
    var desk = Between.overlapped();
    desk.occupy("east");
    desk.order("stack c4e to e");
    assertEquals(List.of(), desk.reload(withWestRow("release: 9 s")));
    desk.clear("east");
    desk.steady();
    assertTrue(desk.locked("c4e-e"));
  }

  @Test
  void stackedRouteThatHasChangedStandsAgainstIt() {
    var desk = Between.overlapped();
    desk.occupy("outer");
    desk.order("stack b4w to y");
    assertEquals(1, desk.reload(withWestRow("release: 9 s")).size());
  }

  // 214.321: whoever has been given the track keeps it, by name.
  @Test
  void permitStandsOn() {
    var desk = Between.overlapped();
    desk.order("grant permit to 'Track crew' on east");
    assertEquals(List.of(), desk.reload(withWestRow("release: 9 s")));
    assertTrue(desk.refused("line c4e to e").contains("Track crew"));
    desk.order("return permit of 'Track crew'");
    desk.order("line c4e to e");
  }

  @Test
  void permitOnASectionThatIsGoneStandsAgainstIt() {
    var smaller = Railroad.read(Between.LAYOUT, Between.RULES);
    var desk = Between.overlapped();
    desk.order("grant permit to 'Track crew' on outer");
    var against = desk.reload(smaller);
    assertTrue(
        against.stream().anyMatch(reason -> reason.contains("section outer is gone")),
        against::toString);
  }

  // 236.305: nobody knows what a train has seen of a signal that is wired otherwise.
  @Test
  void signalThatIsWiredOtherwiseIsToldStopAndTheStartTimeRuns() {
    var desk = Between.overlapped();
    desk.movements();
    var rewired =
        Railroad.read(
            Between.OVERLAPPED_LAYOUT.replace("01.42.00", "01.62.00"), Between.OVERLAPPED_RULES);
    assertEquals(List.of(), desk.reload(rewired));
    assertEquals(List.of(new Output.Show("b4w", "stop")), desk.outputs());
    desk.refused("line b4w to y");
    desk.pass(9.9);
    desk.refused("line b4w to y");
    desk.pass(0.2);
    desk.order("line b4w to y");
  }

  @Test
  void signalThatProceedsIsNotWiredOtherwise() {
    var desk = Between.overlapped();
    desk.line(desk.route("b4w-y"));
    var rewired =
        Railroad.read(
            Between.OVERLAPPED_LAYOUT.replace("01.42.00", "01.62.00"), Between.OVERLAPPED_RULES);
    assertEquals(
        List.of("layout.yaml:23:3: signal b4w shows approach, and signal b4w is wired otherwise"),
        desk.reload(rewired).stream().filter(reason -> reason.contains("shows")).toList());
  }

  // 236.5: what is heard by another event has not been heard yet.
  @Test
  void sectionThatIsWiredOtherwiseIsUnknownUntilItReports() {
    var desk = Between.overlapped();
    var rewired =
        Railroad.read(
            Between.OVERLAPPED_LAYOUT.replace("01.17.00", "01.67.00"), Between.OVERLAPPED_RULES);
    assertEquals(List.of(), desk.reload(rewired));
    assertTrue(desk.refused("line b4w to y").contains("section outer has not reported"));
    desk.clear("outer");
    desk.steady();
    desk.order("line b4w to y");
  }

  // 236.5: nor has what an electric lock is heard by.
  @Test
  void electricLockThatIsWiredOtherwiseIsUnknownUntilItReports() {
    var desk = Kinds.desk();
    String rewired =
        Kinds.LAYOUT.replaceFirst("secured: [0-9A-F.]+", "secured: 0A.00.00.00.00.03.00.00");
    assertEquals(List.of(), desk.reload(Railroad.read(rewired, Kinds.RULES)));
    desk.lies("quarry", Position.NORMAL);
    String why = desk.refused("line a2e to c2e");
    assertTrue(why.contains("the lock of switch quarry is not detected secured"), why);
    desk.lock("quarry", LockState.SECURED);
    desk.steady();
    desk.order("line a2e to c2e");
  }

  // Common practice, no source: a lamp only tells; its rule may say something else at any time.
  @Test
  void lampIsToldWhatItsNewRuleSays() {
    String rule = "indicators:\n  - {lamp: free, when: section outer is %s}\n";
    var before = Railroad.read(layout(), Between.OVERLAPPED_RULES + rule.formatted("occupied"));
    var after = Railroad.read(layout(), Between.OVERLAPPED_RULES + rule.formatted("clear"));
    var desk = Desk.ready(before);
    desk.movements();
    assertEquals(List.of(), desk.reload(after));
    assertEquals(List.of(new Output.Light("free", true)), desk.outputs());
  }

  private static String layout() {
    return Between.OVERLAPPED_LAYOUT + DEVICES;
  }

  // Common practice, no source: a signal is never put out by an edit, and lit where it is to be
  // seen.
  @Test
  void signalThatIsNoLongerToBeDarkIsLit() {
    String dark =
        Between.OVERLAPPED_LAYOUT.replaceFirst(
            "(b4w: .*)shows:", "$1dark: 0A.00.00.00.00.01.42.0F, shows:");
    String light = "lights: [{signal: b4w, when: section mid-1 is occupied}]\n";
    var plain = Railroad.read(dark, Between.OVERLAPPED_RULES);
    var lightsUp = Railroad.read(dark, Between.OVERLAPPED_RULES + light);
    var desk = Desk.ready(lightsUp);
    assertTrue(desk.interlocking.dark("b4w"));
    desk.movements();
    assertEquals(List.of(), desk.reload(plain));
    assertEquals(List.of(new Output.Show("b4w", "stop")), desk.outputs());
    desk.movements();
    assertEquals(List.of(), desk.reload(lightsUp));
    assertEquals(List.of(), desk.outputs());
    desk.occupy("mid-1");
    desk.clear("mid-1");
    desk.steady();
    assertEquals(List.of(new Output.Dark("b4w")), desk.outputs());
  }

  // 236.305: a signal at proceed falls by nobody's editing.
  @Test
  void needThatIsNotMetDoesNotTakeASignalAway() {
    var desk = Between.overlapped();
    desk.line(desk.route("c4e-e"));
    desk.occupy("outer");
    var files =
        Railroad.read(
            Between.OVERLAPPED_LAYOUT,
            Between.OVERLAPPED_RULES + "also:\n  - {signal: c4e, needs: section outer is clear}\n");
    assertTrue(desk.reload(files).get(0).contains("c4e"), desk.reload(files)::toString);
    assertEquals("approach", desk.shows("c4e"));
  }

  @Test
  void alarmsStandOn() {
    var desk = Between.overlapped();
    desk.stuck("e1");
    desk.order("throw e1 reverse");
    desk.moving("e1");
    desk.pass(60.0);
    var alarms = desk.interlocking.alarms();
    assertEquals(1, alarms.size(), alarms::toString);
    assertEquals(List.of(), desk.reload(withWestRow("release: 9 s")));
    assertEquals(alarms, desk.interlocking.alarms());
  }

  @Test
  void changesAreToldWithTheirPlaces() {
    var succession =
        new Succession(
            new Interlocking(Between.OVERLAPPED.layout(), Between.OVERLAPPED.table()),
            compiled(withWestRow("release: 9 s")));
    assertEquals(
        List.of("rules.yaml:12:5: route b4w-y has changed"),
        succession.changes().stream().map(ChangedDevice::toString).toList());
  }

  private static Interlocking compiled(Railroad files) {
    return new Interlocking(files.layout(), files.table());
  }
}
