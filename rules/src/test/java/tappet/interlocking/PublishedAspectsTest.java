package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Light;
import tappet.layout.Looks;
import tappet.layout.Signal;

/** The tables of config/aspects, run on three-head signals. */
class PublishedAspectsTest {

  private static final Set<String> STRAIGHT =
      Set.of(
          "clear",
          "approach",
          "advance-approach",
          "approach-limited",
          "approach-medium",
          "approach-slow",
          "approach-diverging",
          "approach-restricting");

  // C.2, four-block: Stop, Approach, Advance Approach, Clear.
  @ParameterizedTest
  @CsvSource({"speed-signalling, line", "route-signalling, straight"})
  void trainMeetsEveryStepTowardStop(String file, String speed) {
    Desk desk = SignalRow.with(file).lined(speed, speed, speed, speed, speed, speed);
    assertEquals(
        List.of("clear", "clear", "clear", "advance-approach", "approach", "stop"), shown(desk));
  }

  // C.3, row by row: the speed of the route, of the next one, and whether that signal must stop.
  @ParameterizedTest(name = "{0}, then {1}, {2}: {3}")
  @CsvSource({
    "line, limited, proceeds, approach-limited",
    "line, medium, proceeds, approach-medium",
    "line, slow, proceeds, approach-slow",
    "line, restricted, proceeds, approach",
    "line, line, stop, approach",
    "limited, line, proceeds, limited-clear",
    "limited, line, stop, limited-approach",
    "medium, line, proceeds, medium-clear",
    "medium, medium, proceeds, medium-approach-medium",
    "medium, line, stop, medium-approach",
    "slow, line, proceeds, slow-clear",
    "slow, line, stop, slow-approach",
    "restricted, line, proceeds, restricting",
    "restricted, line, stop, restricting",
  })
  void speedSignalShowsItsRow(String here, String next, String signal, String aspect) {
    assertRow("speed-signalling", here, next, signal, aspect);
  }

  // C.4, row by row.
  @ParameterizedTest(name = "{0}, then {1}, {2}: {3}")
  @CsvSource({
    "straight, diverging, proceeds, approach-diverging",
    "straight, restricted, proceeds, approach-restricting",
    "straight, straight, stop, approach",
    "diverging, straight, proceeds, diverging-clear",
    "diverging, diverging, proceeds, diverging-approach-diverging",
    "diverging, straight, stop, diverging-approach",
    "restricted, straight, proceeds, restricting",
  })
  void routeSignalShowsItsRow(String here, String next, String signal, String aspect) {
    assertRow("route-signalling", here, next, signal, aspect);
  }

  private static void assertRow(
      String file, String here, String next, String signal, String aspect) {
    Desk desk = SignalRow.with(file).lined(here, next, next, next, next);
    if (signal.equals("stop")) {
      desk.order("cancel a2");
    }
    assertEquals(aspect, desk.shows("a1"));
  }

  // C.5 rule 3, H.15: for every two speeds in a row, with the signals beyond at stop or clear.
  @ParameterizedTest
  @CsvSource({
    "speed-signalling, line, 'line,limited,medium,slow,restricted'",
    "route-signalling, straight, 'straight,diverging,restricted'"
  })
  void divergingIsNeverShownAsStraightNorAnnouncedAsClear(String file, String line, String speeds) {
    List<String> all = List.of(speeds.split(",", -1));
    for (String here : all) {
      for (String next : all) {
        for (String beyond : all) {
          Desk desk = SignalRow.with(file).lined(here, next, beyond, line, line);
          String told = here + ", " + next + ", " + beyond + ": " + shown(desk);
          assertEquals(here.equals(line), STRAIGHT.contains(desk.shows("a1")), told);
          assertFalse(!next.equals(line) && desk.shows("a1").equals("clear"), told);
          assertFalse(!next.equals(line) && desk.shows("a1").endsWith("-clear"), told);
          desk.order("cancel a2");
          assertFalse(desk.shows("a1").contains("clear"), told);
        }
      }
    }
  }

  // 49 CFR 236.23, C.5 rule 7, F.1 S18: worked out anew, with a dark head read as red and unknown
  // lights as Stop.
  @ParameterizedTest
  @ValueSource(strings = {"speed-signalling", "route-signalling"})
  void noSingleLampThatFailsShowsMore(String file) {
    Desk desk = SignalRow.with(file).lined("restricted", "restricted");
    Looks looks = desk.layout.signals().get("a1").lights().orElseThrow().looks();
    for (String meant : looks.aspects().keySet()) {
      for (int head = 0; head < looks.heads(); head++) {
        List<Light> lights = new ArrayList<>(looks.lights(meant));
        lights.set(head, Light.parse("red").orElseThrow());
        String seen =
            looks.aspects().keySet().stream()
                .filter(aspect -> looks.lights(aspect).equals(lights))
                .findFirst()
                .orElse(Signal.STOP);
        int order = looks.restriction().indexOf(seen);
        assertTrue(order <= looks.restriction().indexOf(meant), meant + " seen as " + seen);
      }
    }
  }

  // F.2 L1: every aspect of the table is shown on some row of signals.
  @Test
  void everyAspectOfTheTableIsReached() {
    Desk desk = SignalRow.with("speed-signalling").lined("line", "line");
    Looks looks = desk.layout.signals().get("a1").lights().orElseThrow().looks();
    Set<String> given = new TreeSet<>(Set.of("stop"));
    desk.table.ladders().values().forEach(ladder -> given.addAll(ladder.beyond().values()));
    assertEquals(given, new TreeSet<>(looks.aspects().keySet()));
  }

  private static List<String> shown(Desk desk) {
    return desk.layout.signals().keySet().stream().map(desk::shows).toList();
  }
}
