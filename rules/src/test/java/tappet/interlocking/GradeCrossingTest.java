package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** S17; Transport Canada, Grade Crossings Standards, 16; 49 CFR 234.225. */
class GradeCrossingTest {

  private static final String CROSSING =
      """
      grade crossings:
        mill-road: {name: Mill Road, island: road, warn: 0A.00.00.00.00.01.A1.01, rest: 0A.00.00.00.00.01.A1.00}
      """;

  private static final String ROW =
      """
      grade crossings:
        - crossing: mill-road
          approaches: [[west-far, west-near], [east-far, east-near]]
          warning: 10 s
          time-out: 60 s
          started by: [w2e-f, e2w-a]
      """;

  private static final String NEVER_RESTS = ROW.replace("    started by: [w2e-f, e2w-a]\n", "");

  private final Desk desk = Desk.ready(Lane.with(CROSSING, ROW));

  // S19, H.8: it rests only once everything has said that nothing comes.
  @Test
  void itWarnsUntilEverySectionIsKnownToBeVacant() {
    var started = Desk.started(Lane.with(CROSSING, ROW));
    assertTrue(warns(started));
    for (String section : List.of("west-far", "west-near", "road", "east-near")) {
      started.clear(section);
    }
    started.pass(30.0);
    assertTrue(warns(started));
    started.clear("east-far");
    assertTrue(warns(started));
    started.steady();
    assertFalse(warns(started));
  }

  @ParameterizedTest
  @ValueSource(strings = {"west-far", "west-near", "road", "east-near", "east-far"})
  void anythingOccupiedOrUnknownMakesItWarnAtOnce(String section) {
    assertFalse(warns(desk));
    desk.occupy(section);
    assertTrue(warns(desk));
    assertTrue(desk.why("mill-road").contains("section " + section + " is occupied"));
    desk.clear(section);
    desk.steady();
    assertFalse(warns(desk));
    desk.unknown(section);
    assertTrue(warns(desk));
    desk.pass(300.0);
    assertTrue(warns(desk), "no time makes what is unknown known");
  }

  // 16.4: the directional stick, both ways.
  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void itRestsBehindATrainThatStillStandsInTheFarApproach(boolean eastward) {
    String from = eastward ? "west" : "east";
    String to = eastward ? "east" : "west";
    desk.occupy(from + "-far");
    assertTrue(warns(desk));
    desk.moves(from + "-far", from + "-near");
    assertTrue(warns(desk));
    desk.moves(from + "-near", "road");
    assertTrue(warns(desk));
    desk.occupy(to + "-near");
    desk.pass(1.0);
    desk.clear("road");
    assertTrue(warns(desk), "it has only just left the road");
    desk.steady();
    assertFalse(warns(desk));
    assertEquals(
        """
        grade crossing mill-road (Mill Road) rests:
          a train leaves the road by section %s-near
        """
            .formatted(to),
        desk.why("mill-road"));
    desk.moves(to + "-near", to + "-far");
    assertFalse(warns(desk));
    desk.clear(to + "-far");
    desk.steady();
    desk.occupy(to + "-far");
    assertTrue(warns(desk), "the next one comes");
  }

  // S17: the stick of the train that leaves must not serve one that comes.
  @Test
  void trainThatFollowsIsWarnedOf() {
    desk.runs("west-far", "west-near", "road", "east-near");
    assertFalse(warns(desk));
    desk.occupy("west-far");
    assertTrue(warns(desk));
  }

  @Test
  void flickerOnTheRoadSetsNoStick() {
    desk.occupy("road");
    desk.occupy("east-near");
    desk.clear("road");
    desk.pass(30.0);
    assertTrue(warns(desk), "nothing came from the other side");
  }

  @Test
  void trainThatComesFromTheFarSideWhileOneIsOnTheRoadIsWarnedOf() {
    desk.runs("west-near", "road");
    desk.occupy("east-far");
    desk.occupy("east-near");
    desk.clear("road");
    desk.pass(30.0);
    assertTrue(warns(desk));
  }

  @Test
  void trainThatTurnsBackOnTheRoadIsWarnedOfUntilItHasGone() {
    desk.runs("west-near", "road");
    desk.moves("road", "west-near");
    assertTrue(warns(desk));
    desk.clear("west-near");
    desk.steady();
    assertFalse(warns(desk));
  }

  @Test
  void lostDetectorEndsTheStick() {
    desk.runs("west-near", "road", "east-near");
    assertFalse(warns(desk));
    desk.unknown("east-far");
    assertTrue(warns(desk));
  }

  // S14: a train with bad contact on the road.
  @Test
  void lossOfShuntOnTheRoadDoesNotLetItRest() {
    desk.runs("west-near", "road");
    desk.clear("road");
    desk.pass(1.9);
    assertTrue(warns(desk));
    desk.occupy("road");
    assertTrue(warns(desk));
  }

  @Test
  void itRestsAfterTheTimeOutWhileATrainStandsBeforeItsSignal() {
    desk.occupy("west-near");
    desk.pass(59.9);
    assertTrue(warns(desk));
    desk.pass(0.2);
    assertFalse(warns(desk));
    assertEquals(List.of(), desk.interlocking.alarms());
    assertTrue(
        desk.why("mill-road").contains("the train in section west-near has stood there for 60 s"),
        desk.why("mill-road"));
    desk.occupy("road");
    assertTrue(warns(desk), "it has gone by its signal");
  }

  @Test
  void trainThatMovesOnStartsItAgain() {
    desk.occupy("west-far");
    desk.pass(61.0);
    assertFalse(warns(desk));
    desk.occupy("west-near");
    assertTrue(warns(desk));
  }

  // S17: the road is warned for its time before a standing train is let go.
  @Test
  void signalOfAStandingTrainWaitsUntilTheRoadHasBeenWarned() {
    desk.occupy("west-near");
    desk.pass(61.0);
    assertFalse(warns(desk));
    desk.order("line w2e to f");
    assertTrue(warns(desk));
    assertEquals("stop", desk.shows("w2e"));
    assertTrue(
        desk.why("w2e").contains("grade crossing mill-road (Mill Road) has not warned for 10 s"),
        desk.why("w2e"));
    desk.pass(9.9);
    assertEquals("stop", desk.shows("w2e"));
    desk.pass(0.2);
    assertEquals("approach", desk.shows("w2e"));
    desk.pass(300.0);
    assertTrue(warns(desk), "it may start at any time");
  }

  // S17; 16.4: the stick is for a train that leaves, and whoever is sent back has stood there.
  @Test
  void trainThatIsSentBackIsWarnedOfBeforeItStarts() {
    var nobodyWaits = Desk.ready(Lane.with(CROSSING, NEVER_RESTS));
    nobodyWaits.runs("west-near", "road", "east-near");
    assertFalse(warns(nobodyWaits));
    nobodyWaits.order("line e2w to a");
    assertTrue(warns(nobodyWaits));
    nobodyWaits.pass(9.9);
    assertEquals("stop", nobodyWaits.shows("e2w"));
    nobodyWaits.pass(0.2);
    assertEquals("approach", nobodyWaits.shows("e2w"));
  }

  @Test
  void signalIsNotTakenFromATrainThatComes() {
    desk.order("line w2e to f");
    assertEquals("approach", desk.shows("w2e"));
    desk.occupy("west-far");
    assertTrue(warns(desk));
    assertEquals("approach", desk.shows("w2e"));
  }

  @Test
  void withoutASignalNothingEndsTheWarningAndAPersonIsTold() {
    var unsignalled = Desk.ready(Lane.with(CROSSING, NEVER_RESTS));
    unsignalled.occupy("west-near");
    unsignalled.pass(59.9);
    assertEquals(List.of(), unsignalled.interlocking.alarms());
    unsignalled.pass(300.0);
    assertTrue(warns(unsignalled));
    var tooLong = "grade crossing mill-road (Mill Road) has warned for more than 60 s";
    assertEquals(List.of(tooLong), unsignalled.interlocking.alarms());
    unsignalled.clear("west-near");
    unsignalled.steady();
    assertEquals(List.of(), unsignalled.interlocking.alarms());
  }

  @Test
  void trainThatStaysOnTheRoadIsTold() {
    desk.occupy("road");
    desk.pass(61.0);
    assertTrue(warns(desk));
    assertEquals(1, desk.interlocking.alarms().size());
  }

  @Test
  void conditionAsksWhetherTheRoadIsWarned() {
    var needs = "also: [{signal: w0e, needs: grade crossing mill-road is not warning}]\n";
    var careful = Desk.ready(Lane.with(CROSSING, ROW + needs));
    careful.occupy("road");
    assertFalse(careful.tell("line w0e to w2e").granted());
    careful.clear("road");
    careful.steady();
    assertTrue(careful.tell("line w0e to w2e").granted());
  }

  /** What the road was last told. */
  private static boolean warns(Desk desk) {
    boolean warns = false;
    for (Output output : desk.outputs()) {
      if (output instanceof Output.Warn warn) {
        warns = warn.warns();
      }
    }
    return warns;
  }
}
