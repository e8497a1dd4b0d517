package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.SignalKind;
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

  /** A block between an automatic signal, a, and an absolute one, b. */
  private static Bench block(TrainSpec... trains) {
    var plan =
        SmallPlan.straight(2, 2, 2, 2)
            .signal("a", "j1", "s2", SignalKind.AUTOMATIC)
            .signal("b", "j3", "s4");
    var bench = Bench.ready(plan.plan(), trains);
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").waitsFor().isPresent()));
    assertEquals(List.of("s1"), bench.train("Extra 41").sections());
    return bench;
  }

  private static final TrainSpec EXTRA_41 = train("Extra 41", "s1", Heading.EAST, 0.5);

  // Interlocking sheet, C.3: Stop and Proceed, a red signal with a number plate; 49 CFR 236.812.
  @Test
  void automaticSignalAtStopIsPassedAtRestrictedSpeedAfterAPause() {
    var bench = block(EXTRA_41);
    assertEquals(Optional.of("a"), bench.train("Extra 41").waitsFor());
    bench.passMs(4_800);
    assertEquals(Optional.of("a"), bench.train("Extra 41").waitsFor());
    var speeds = new TreeSet<Double>();
    assertTrue(
        bench.passUntil(
            () -> {
              speeds.add(bench.train("Extra 41").speedMetresPerSecond());
              return bench.train("Extra 41").waitsFor().equals(Optional.of("b"));
            }));
    assertEquals(AspectSpeed.RESTRICTING.part() * 0.3, speeds.last(), 1e-9);
    bench.passMs(60_000);
    assertEquals(Optional.of("b"), bench.train("Extra 41").waitsFor());
    assertEquals(List.of("s3"), bench.railway.occupied());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void pauseAtAnAutomaticSignalIsAsLongAsIsSaid() {
    var bench = block(EXTRA_41);
    bench.railway.pauseAtStopAndProceed(Duration.ofSeconds(20));
    bench.passMs(19_500);
    assertEquals(Optional.of("a"), bench.train("Extra 41").waitsFor());
    bench.passMs(10_000);
    assertTrue(bench.train("Extra 41").sections().contains("s2"));
    assertThrows(
        IllegalArgumentException.class,
        () -> bench.railway.pauseAtStopAndProceed(Duration.ofSeconds(-1)));
  }

  @Test
  void automaticSignalThatClearsInThePauseIsPassedByItsAspect() {
    var bench = block(EXTRA_41);
    bench.passMs(2_000);
    bench.show("a", "clear");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s2"))));
    assertEquals(0.3, bench.train("Extra 41").speedMetresPerSecond(), 1e-9);
  }

  @Test
  void nextSignalEndsRestrictedSpeed() {
    var bench = block(EXTRA_41);
    bench.show("b", "clear");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s3"))));
    assertEquals(0.09, bench.train("Extra 41").speedMetresPerSecond(), 1e-9);
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s4"))));
    assertEquals(0.3, bench.train("Extra 41").speedMetresPerSecond(), 1e-9);
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @ParameterizedTest
  @ValueSource(strings = {"s2", "s3"})
  void trainOnSightStopsShortOfAnotherAndFollowsIt(String section) {
    var bench = block(EXTRA_41, train("Second 7", section, Heading.EAST, 0.5));
    assertTrue(
        bench.passUntil(() -> bench.train("Extra 41").activity() == Activity.WAITING_BEHIND_TRAIN));
    bench.passMs(60_000);
    assertEquals(Activity.WAITING_BEHIND_TRAIN, bench.train("Extra 41").activity());
    assertEquals(List.of(), bench.railway.mishaps());
    assertEquals(Optional.empty(), bench.train("Extra 41").waitsFor());
    bench.show("b", "clear");
    bench.run("Second 7");
    assertTrue(bench.passUntil(() -> bench.train("Second 7").sections().contains("s4")));
    bench.show("b", "stop");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").waitsFor().isPresent()));
    assertEquals(Optional.of("b"), bench.train("Extra 41").waitsFor());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void trainThatIsLiftedLetsTheOneBehindGoOn() {
    var bench = block(EXTRA_41, train("Second 7", "s2", Heading.EAST, 0.5));
    assertTrue(bench.passUntil(() -> isAt(bench, "Extra 41", Activity.WAITING_BEHIND_TRAIN)));
    bench.passMs(10_000);
    bench.railway.lift("Second 7");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").waitsFor().isPresent()));
    assertEquals(Optional.of("b"), bench.train("Extra 41").waitsFor());
  }

  @Test
  void trainThatTurnsBackAtAnAutomaticSignalHasNoLeaveToPassItLater() {
    var bench = block(EXTRA_41);
    bench.passMs(4_000);
    bench.run("Extra 41", Heading.WEST);
    assertTrue(bench.passUntil(() -> isAt(bench, "Extra 41", Activity.AT_END_OF_TRACK)));
    bench.run("Extra 41", Heading.EAST);
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").waitsFor().isPresent()));
    bench.passMs(4_000);
    assertEquals(Optional.of("a"), bench.train("Extra 41").waitsFor());
  }

  private static boolean isAt(Bench bench, String train, Activity activity) {
    return bench.train(train).activity() == activity;
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
