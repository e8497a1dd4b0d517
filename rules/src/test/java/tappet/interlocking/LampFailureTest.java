package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A signal that knows that a lamp has failed, or does not know that it works. */
class LampFailureTest {

  private static final SignalRow ROW = SignalRow.with("speed-signalling");

  // 49 CFR 236.23; F.1 S12, S18; H.15: the one behind sees what is shown, not what is meant.
  @Test
  void failedLampTakesTheSignalDownAndTheOneBehindSeesIt() {
    Desk desk = ROW.lined("line", "line", "line", "line", "line", "line");
    assertEquals("clear", desk.shows("a3"));
    desk.lamp("a3", "top-green", false);
    assertEquals("approach", desk.shows("a3"));
    assertEquals("advance-approach", desk.shows("a2"));
    assertEquals("clear", desk.shows("a1"));
    assertTrue(desk.why("a3").contains("top green lamp of signal a3 has failed"), desk.why("a3"));
    assertEquals(List.of("top green lamp of signal a3 has failed"), desk.interlocking.alarms());
    desk.lamp("a3", "top-green", true);
    assertEquals("clear", desk.shows("a3"));
    assertEquals(List.of(), desk.interlocking.alarms());
  }

  // 49 CFR 236.5: a lamp that does not report is no lamp to trust.
  @Test
  void lampOfWhichNothingIsKnownCountsAsFailed() {
    Desk desk = ROW.lined("line", "line", "line", "line", "line", "line");
    desk.lampUnknown("a3", "top-green");
    assertEquals("approach", desk.shows("a3"));
    assertTrue(desk.why("a3").contains("top green lamp of signal a3 has not reported"));
  }

  // Without the lamp of its lowest aspect a signal stays at Stop, and does not clear by itself.
  @Test
  void signalThatCannotEvenShowApproachIsAtStopUntilItIsLinedAgain() {
    Desk desk = ROW.lined("line", "line", "line");
    assertEquals("approach", desk.shows("a2"));
    desk.lamp("a2", "top-yellow", false);
    assertEquals("stop", desk.shows("a2"));
    assertEquals("approach", desk.shows("a1"));
    assertTrue(desk.why("a2").contains("top yellow lamp of signal a2 has failed"), desk.why("a2"));
    desk.lamp("a2", "top-yellow", true);
    assertEquals("stop", desk.shows("a2"));
    desk.order("line a2 to a3");
    assertEquals("approach", desk.shows("a2"));
  }

  // Approach-medium without its yellow would read as medium-clear: line speed at the next signal.
  @Test
  void fallenAspectPromisesNothingThatIsNotSo() {
    Desk desk = ROW.lined("line", "medium", "line", "line", "line");
    assertEquals("approach-medium", desk.shows("a1"));
    desk.lamp("a1", "top-yellow", false);
    assertEquals("stop", desk.shows("a1"));
  }

  // A dark red head is read as red: nothing changes, and nothing falls.
  @ParameterizedTest
  @ValueSource(strings = {"middle-red", "bottom-red", "bottom-green", "middle-green"})
  void lampThatTheRouteDoesNotNeedChangesNothing(String lamp) {
    Desk desk = ROW.lined("line", "line", "line", "line", "line", "line");
    desk.lamp("a3", lamp, false);
    assertEquals("clear", desk.shows("a3"));
  }

  // F.1 S18, H.15: each lamp of a signal alone, for every pair of speeds: never better than meant,
  // and the one behind goes by what is shown.
  @ParameterizedTest
  @CsvSource({"line", "limited", "medium", "slow", "restricted"})
  void noLampThatFailsMakesAnySignalBetter(String next) {
    for (String here : List.of("line", "limited", "medium", "slow", "restricted")) {
      Desk desk = ROW.lined("line", here, next, "line", "line", "line");
      var looks = desk.layout.signals().get("a2").lights().orElseThrow().looks();
      var ladder = desk.table.ladders().get("line");
      String meant = desk.shows("a2");
      for (var lamp : desk.layout.signals().get("a2").lights().orElseThrow().provings()) {
        desk.lamp("a2", lamp.id(), false);
        String shown = desk.shows("a2");
        assertTrue(!looks.isBetter(shown, meant), here + " " + lamp.id() + ": " + shown);
        assertEquals(ladder.beyond().get(shown), desk.shows("a1"), here + " " + lamp.id());
        desk.lamp("a2", lamp.id(), true);
        desk.tell("line a2 to a3");
        assertEquals(meant, desk.shows("a2"));
      }
    }
  }

  // F.2 L6: round a closed loop, with the same lamp out at every signal, each signal still goes by
  // what the next one shows.
  @ParameterizedTest
  @ValueSource(strings = {"top-green", "top-yellow", "middle-green", "top-red"})
  void loopOfFailedLampsAgreesAllRound(String lamp) {
    Desk desk = ROW.circle("line", "line", "line", "line", "line");
    for (int signal = 1; signal <= 5; signal++) {
      desk.lamp("a" + signal, lamp, false);
    }
    var ladder = desk.table.ladders().get("line");
    for (int signal = 1; signal <= 5; signal++) {
      String shown = desk.shows("a" + signal);
      String next = desk.shows("a" + (signal % 5 + 1));
      boolean fallen = shown.equals("stop") || shown.equals("approach");
      assertTrue(fallen || ladder.beyond().get(next).equals(shown), shown + " before " + next);
      assertEquals(lamp.equals("top-yellow"), shown.equals("stop"));
      assertEquals(lamp.equals("top-green"), shown.equals("approach"));
    }
  }
}
