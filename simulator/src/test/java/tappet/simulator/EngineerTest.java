package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.sentence.Command.Heading;
import tappet.simulator.Mishap.Kind;
import tappet.simulator.TrainState.Activity;

/** How engineers heed signals. Common practice, no source, where none is named. */
class EngineerTest {

  private final Bench bench =
      Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));

  private TrainState extra() {
    return bench.train("Extra 41");
  }

  @Test
  void trainFacingASignalAtStopStopsShortOfTheJoint() {
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(Activity.WAITING_AT_SIGNAL, extra().activity());
    assertEquals(Optional.of("e"), extra().waitsFor());
    assertEquals("j1", extra().nextJoint());
    assertEquals(0.05, extra().metresToJoint(), 1e-3);
    assertEquals(List.of("west"), bench.railway.occupied());
  }

  @Test
  void waitingTrainStartsByItselfWhenTheSignalClears() {
    bench.run("Extra 41");
    bench.passMs(60_000);
    bench.show("e", "approach");
    bench.passMs(60_000);
    assertEquals(List.of("main"), bench.railway.occupied());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void standingTrainDoesNotStartBecauseASignalClears() {
    bench.show("e", "clear");
    bench.passMs(60_000);
    assertEquals(Activity.STANDING, extra().activity());
    assertEquals(List.of("west"), bench.railway.occupied());
  }

  @Test
  void signalForTheOtherDirectionIsNoConcern() {
    // w1 stands at j2 and leads west: eastbound trains go by it while it shows Stop.
    bench.show("e", "clear");
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(Activity.AT_END_OF_TRACK, extra().activity());
  }

  // Speeds by aspect: the train's own speed is 0.3 m/s; the parts are ours, in AspectSpeed.
  @ParameterizedTest
  @CsvSource({"clear, 0.3", "approach, 0.18", "diverging-clear, 0.15"})
  void aspectSetsTheSpeedBeyondTheSignal(String aspect, double speed) {
    bench.show("e", aspect);
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.railway.occupied().equals(List.of("main"))));
    assertEquals(speed, extra().speedMetresPerSecond(), 1e-9);
  }

  @Test
  void trainBrakesAtOnceWhenASignalDropsInItsFace() {
    // FM 55-21 rule 304: the train stops at once.
    bench.show("e", "clear");
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> extra().metresToJoint() < 0.07));
    double speed = extra().speedMetresPerSecond();
    bench.show("e", "stop");
    bench.passMs(100);
    assertTrue(extra().speedMetresPerSecond() < speed - 0.04);
    bench.passMs(10_000);
    assertEquals(Activity.WAITING_AT_SIGNAL, extra().activity());
    assertEquals(List.of("west"), bench.railway.occupied());
  }

  @Test
  void trainThatCannotStopInTimeGoesByStopsAndStaysUntilToldToRun() {
    // FM 55-21 rule 304: the train stops at once and reports.
    bench.show("e", "clear");
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> extra().metresToJoint() < 0.01));
    bench.show("e", "stop");
    bench.passMs(10_000);
    assertEquals(
        List.of(Kind.SIGNAL_PASSED), bench.railway.mishaps().stream().map(Mishap::kind).toList());
    assertEquals(Activity.STANDING, extra().activity());
    assertEquals(List.of("west", "os"), bench.railway.occupied());
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of("main"), bench.railway.occupied());
  }

  @Test
  void trainToldSoPassesSignalsAndThatIsWrittenDown() {
    bench.railway.obeySignals("Extra 41", false);
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of("main"), bench.railway.occupied());
    assertEquals(
        List.of("Extra 41 went by e at Stop"),
        bench.railway.mishaps().stream().map(Mishap::account).toList());
  }

  @ParameterizedTest
  @CsvSource({
    "stop, STOP",
    "dark, STOP", // Army TR 06358: all dark is read as Stop
    "restricting, RESTRICTING",
    "slow-clear, RESTRICTING",
    "diverging-approach, DIVERGING",
    "medium-clear, DIVERGING",
    "limited-approach, LIMITED",
    "stop-and-proceed, STOP",
    "approach, APPROACH",
    "approach-diverging, LINE",
    "clear, LINE",
    "lunar, LINE",
  })
  void nameOfAnAspectTellsTheSpeed(String aspect, AspectSpeed speed) {
    assertEquals(speed, AspectSpeed.of(aspect));
  }
}
