package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.Position;
import tappet.sentence.Command.Heading;
import tappet.simulator.TrainState.Activity;

/** How trains lie on the track and run over it. Common practice, no source, where none is named. */
class TrainOnTrackTest {

  @Test
  void trainOccupiesTheNextSectionBeforeItClearsTheLast() {
    var bench =
        Bench.ready(SmallPlan.straight(2, 1, 2).plan(), train("Extra 41", "s1", Heading.EAST, 0.5));
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of("s2 occupied", "s1 clear", "s3 occupied", "s2 clear"), bench.told());
  }

  @Test
  void trainLongerThanASectionHoldsThree() {
    var bench =
        Bench.ready(SmallPlan.straight(2, 1, 2).plan(), train("Extra 41", "s1", Heading.EAST, 1.5));
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.railway.occupied().size() == 3));
    assertEquals(List.of("s1", "s2", "s3"), bench.train("Extra 41").sections());
  }

  @ParameterizedTest
  @CsvSource({"NORMAL, main", "REVERSE, siding"})
  void trainTakesTheLegTheSwitchLiesFor(Position position, String arrives) {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));
    bench.call("t", position);
    bench.show("e", "clear");
    bench.passMs(2_000);
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of(arrives), bench.railway.occupied());
  }

  @Test
  void trainStopsShortOfTheEndOfTrack() {
    var bench =
        Bench.ready(SmallPlan.straight(2).plan(), train("Extra 41", "s1", Heading.EAST, 0.5));
    bench.run("Extra 41");
    bench.passMs(60_000);
    TrainState state = bench.train("Extra 41");
    assertEquals(Activity.AT_END_OF_TRACK, state.activity());
    assertEquals(0.05, state.metresToJoint(), 1e-3);
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void trainTakesTimeToGainSpeedAndToLoseIt() {
    var bench =
        Bench.ready(SmallPlan.straight(9).plan(), train("Extra 41", "s1", Heading.EAST, 0.5));
    bench.run("Extra 41");
    bench.passMs(1_000);
    assertEquals(0.15, bench.train("Extra 41").speedMetresPerSecond(), 0.01);
    bench.passMs(4_000);
    bench.halt("Extra 41");
    bench.passMs(500);
    assertEquals(Activity.RUNNING, bench.train("Extra 41").activity());
    bench.passMs(2_000);
    assertEquals(Activity.STANDING, bench.train("Extra 41").activity());
  }

  @Test
  void trainToldTheOtherWayChangesEndsAndRunsBackToWhereItWas() {
    var bench =
        Bench.ready(SmallPlan.straight(2, 1, 2).plan(), train("Extra 41", "s2", Heading.EAST, 0.5));
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of("s3"), bench.railway.occupied());
    bench.run("Extra 41", Heading.WEST);
    assertEquals(Heading.WEST, bench.train("Extra 41").heading());
    bench.passMs(60_000);
    assertEquals(List.of("s1"), bench.railway.occupied());
    assertEquals("j0", bench.train("Extra 41").nextJoint());
  }

  @Test
  void turningALongTrainMovesNothing() {
    var bench =
        Bench.ready(SmallPlan.straight(2, 1, 2).plan(), train("Extra 41", "s3", Heading.EAST, 3.2));
    List<String> before = bench.railway.occupied();
    bench.run("Extra 41", Heading.WEST);
    bench.halt("Extra 41");
    bench.passMs(40);
    assertEquals(before, bench.railway.occupied());
    assertEquals(List.of("s3", "s2", "s1"), bench.train("Extra 41").sections());
    // 5 m of track, the head of the 3.2 m train 0.05 m from its end.
    assertEquals(5 - 0.05 - 3.2, bench.train("Extra 41").metresToJoint(), 1e-9);
  }

  @Test
  void trainLongerThanItsSectionStandsInTheSectionsBehind() {
    var bench =
        Bench.ready(SmallPlan.straight(2, 1, 2).plan(), train("Extra 41", "s2", Heading.WEST, 2.5));
    assertEquals(List.of("s3", "s2"), bench.train("Extra 41").sections());
    assertEquals(List.of("s2", "s3"), bench.railway.occupied());
  }

  @Test
  void howOftenTimeIsToldMakesNoDifference() {
    List<String> fine = placesAfter(20, 7);
    List<String> coarse = placesAfter(1, 140);
    assertEquals(fine, coarse);
  }

  /** Where the train is after each 140 ms of half a minute, told in this many steps each. */
  private static List<String> placesAfter(int steps, int msEach) {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));
    bench.show("e", "diverging-clear");
    bench.run("Extra 41");
    var places = new ArrayList<String>();
    for (int i = 0; i < 200; i++) {
      for (int step = 0; step < steps; step++) {
        bench.passMs(msEach);
      }
      places.add(bench.train("Extra 41").toString());
    }
    return places;
  }

  @Test
  void standingRailwayHasNothingDue() {
    var bench =
        Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));
    bench.run("Extra 41");
    assertTrue(bench.railway.deadlineNs().isPresent());
    assertTrue(
        bench.passUntil(() -> bench.train("Extra 41").activity() == Activity.WAITING_AT_SIGNAL));
    assertTrue(bench.railway.deadlineNs().isEmpty());
  }
}
