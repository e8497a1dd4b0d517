package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.TrackPlan;
import tappet.layout.Trains;
import tappet.sentence.Command;
import tappet.sentence.Command.End;
import tappet.sentence.Command.Heading;
import tappet.sentence.Happening;
import tappet.simulator.Mishap.Kind;
import tappet.simulator.TrainState.Activity;
import tappet.source.Place;

/** Cars that are picked up and set out. Common practice, no source. */
class CouplingTest {

  private static final Place HERE = Place.inText("test", 1);
  private static final double CAR = 0.1;
  private static final Trains CARS_OF_TEN_CM =
      new Trains(Optional.empty(), Optional.empty(), Map.of(), Optional.of(CAR));

  private static TrackPlan plan(SmallPlan plan) {
    return new TrackPlan(plan.plan().layout().runBy(CARS_OF_TEN_CM, List.of()));
  }

  /** An engine with cars behind it, and cars without one. */
  private static TrainSpec engineAnd(int cars, String name, String section, Heading heading) {
    return new TrainSpec(name, section, heading, (cars + 1) * CAR, 0.3);
  }

  private static TrainSpec cars(int count, String name, String section, Heading heading) {
    return new TrainSpec(name, section, heading, count * CAR, 0.3, false);
  }

  /** Extra 41 with four cars in s1, and 15 Hoppers from 0.25 m to 1.75 m in s2. */
  private static Bench twoOnALine(Heading headingOfHoppers) {
    return Bench.ready(
        plan(SmallPlan.straight(2.5, 2)),
        engineAnd(4, "Extra 41", "s1", Heading.EAST),
        cars(15, "Hoppers", "s2", headingOfHoppers));
  }

  private static Optional<String> pickUp(Bench bench, String cars) {
    return pickUp(bench, cars, Heading.EAST);
  }

  private static Optional<String> pickUp(Bench bench, String cars, Heading heading) {
    return bench.railway.tell(
        new Command.PickUp(cars, "Extra 41", Optional.of(heading), HERE, HERE));
  }

  private static Optional<String> setOut(Bench bench, int count, String name) {
    return setOut(bench, count, Optional.empty(), name);
  }

  private static Optional<String> setOut(Bench bench, int count, Optional<End> end, String name) {
    return bench.railway.tell(new Command.SetOut(count, end, "Extra 41", name, HERE, HERE));
  }

  private static List<String> names(Bench bench) {
    return bench.railway.trains().stream().map(TrainState::name).toList();
  }

  private static boolean isAlone(Bench bench) {
    return bench.railway.trains().size() == 1;
  }

  @ParameterizedTest
  @ValueSource(strings = {"EAST", "WEST"})
  void trainThatPicksUpCarsIsOneWithThem(Heading headingOfHoppers) {
    Bench bench = twoOnALine(headingOfHoppers);
    assertEquals(Optional.empty(), pickUp(bench, "Hoppers"));
    assertTrue(bench.passUntil(() -> isAlone(bench)));
    TrainState extra = bench.train("Extra 41");
    assertEquals(19, extra.cars());
    assertEquals(Activity.STANDING, extra.activity());
    assertEquals(List.of("s1", "s2"), extra.sections());
    assertEquals(0.25, extra.metresToJoint(), 1e-5);
    assertEquals(List.of(), bench.railway.mishaps());
    assertTrue(bench.railway.deadlineNs().isEmpty());
  }

  @Test
  void whatIsCoupledRunsAsOne() {
    Bench bench = twoOnALine(Heading.EAST);
    pickUp(bench, "Hoppers");
    assertTrue(bench.passUntil(() -> isAlone(bench)));
    bench.told();
    assertEquals(Optional.empty(), bench.run("Extra 41", Heading.WEST));
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s1"))));
    assertEquals(List.of("s2 clear"), bench.told());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  /** No faster than a walk: rule books have 4 mph, which is 0.02 m/s in HO. */
  @Test
  void trainComesToTheCarsBySightAndSlowlyAtLast() {
    Bench bench = twoOnALine(Heading.EAST);
    pickUp(bench, "Hoppers");
    List<Double> speeds = new ArrayList<>();
    assertTrue(
        bench.passUntil(
            () -> {
              speeds.add(bench.train("Extra 41").speedMetresPerSecond());
              return isAlone(bench);
            }));
    assertEquals(
        AspectSpeed.RESTRICTING.part() * 0.3,
        speeds.stream().mapToDouble(speed -> speed).max().orElseThrow(),
        1e-9);
    List<Double> moving = speeds.stream().filter(speed -> speed > 0).toList();
    assertEquals(Engineer.COUPLING_SPEED, moving.get(moving.size() - 1), 1e-9);
  }

  @Test
  void trainStopsShortOfWhatItWasNotToldToCoupleTo() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(2, 2, 2)),
            engineAnd(4, "Extra 41", "s1", Heading.EAST),
            cars(3, "Hoppers", "s2", Heading.EAST),
            cars(3, "Tanks", "s3", Heading.EAST));
    pickUp(bench, "Tanks");
    bench.passMs(60_000);
    assertEquals(Activity.WAITING_BEHIND_TRAIN, bench.train("Extra 41").activity());
    assertEquals(3, bench.railway.trains().size());
    bench.railway.lift("Hoppers");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").cars() == 7));
    assertEquals(List.of("Extra 41"), names(bench));
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void trainDoesNotCoupleToCarsThatStandFoulOfItsTrack() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.junction()),
            engineAnd(4, "Extra 41", "west", Heading.EAST),
            cars(34, "Foul", "main", Heading.EAST));
    bench.railway.throwByHand("t", Position.REVERSE);
    bench.show("e", "clear");
    pickUp(bench, "Foul");
    bench.passMs(120_000);
    assertEquals(Activity.WAITING_BEHIND_TRAIN, bench.train("Extra 41").activity());
    assertEquals(Optional.of("joint j2"), bench.train("Foul").foulOf());
  }

  @Test
  void trainOnTheMoveIsNotCoupledToBeforeItStands() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(2, 2, 2)),
            engineAnd(4, "Extra 41", "s1", Heading.EAST),
            engineAnd(2, "Second 7", "s2", Heading.EAST));
    bench.run("Second 7");
    pickUp(bench, "Second 7");
    assertTrue(
        bench.passUntil(() -> bench.train("Second 7").activity() == Activity.AT_END_OF_TRACK));
    assertEquals(2, bench.railway.trains().size());
    assertTrue(bench.passUntil(() -> isAlone(bench)));
    assertEquals(6, bench.train("Extra 41").cars());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void trainsThatPickEachOtherUpAreOneTrain() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(2, 2)),
            engineAnd(4, "Extra 41", "s1", Heading.EAST),
            engineAnd(2, "Second 7", "s2", Heading.WEST));
    pickUp(bench, "Second 7");
    bench.railway.tell(new Command.PickUp("Extra 41", "Second 7", Optional.empty(), HERE, HERE));
    assertTrue(bench.passUntil(() -> isAlone(bench)));
    bench.passMs(10_000);
    assertEquals(6, bench.railway.trains().get(0).cars());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void signalsAreObeyedOnTheWay() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(2, 2).signal("a", "j1", "s2")),
            engineAnd(4, "Extra 41", "s1", Heading.EAST),
            cars(3, "Hoppers", "s2", Heading.EAST));
    pickUp(bench, "Hoppers");
    bench.passMs(60_000);
    assertEquals(Optional.of("a"), bench.train("Extra 41").waitsFor());
    bench.show("a", "approach");
    assertTrue(bench.passUntil(() -> isAlone(bench)));
  }

  @Test
  void trainThatComesTooFastCollides() {
    Bench bench = twoOnALine(Heading.EAST);
    pickUp(bench, "Hoppers");
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").speedMetresPerSecond() > 0.05));
    bench.railway.happen(new Happening.TrainLosesBrakes("Extra 41", HERE));
    bench.passMs(60_000);
    assertEquals(
        List.of(Kind.COLLISION), bench.railway.mishaps().stream().map(Mishap::kind).toList());
  }

  @Test
  void trainThatIsHaltedOrSentOnDoesNotCouple() {
    Bench bench = twoOnALine(Heading.EAST);
    pickUp(bench, "Hoppers");
    bench.passMs(2_000);
    bench.halt("Extra 41");
    bench.passMs(30_000);
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(2, bench.railway.trains().size());
    assertEquals(1, bench.railway.mishaps().size(), "it ran into them");
  }

  @Test
  void carsThatAreSetOutHoldTheirSectionAlone() {
    Bench bench =
        Bench.ready(plan(SmallPlan.straight(2, 2)), engineAnd(4, "Extra 41", "s1", Heading.EAST));
    assertEquals(Optional.empty(), setOut(bench, 3, "Reefers"));
    assertEquals(List.of(), bench.told());
    assertEquals(1, bench.train("Extra 41").cars());
    assertEquals(3, bench.train("Reefers").cars());
    assertFalse(bench.train("Reefers").hasEngine());
    bench.run("Extra 41");
    bench.passMs(60_000);
    assertEquals(List.of("s1"), bench.train("Reefers").sections());
    assertEquals(List.of("s2"), bench.train("Extra 41").sections());
    assertEquals(List.of("s2 occupied"), bench.told());
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void carsAheadOfAnEngineThatShovesAreSetOutInFrontOfIt() {
    Bench bench =
        Bench.ready(plan(SmallPlan.straight(2, 2)), engineAnd(4, "Extra 41", "s1", Heading.WEST));
    bench.run("Extra 41", Heading.EAST);
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s2"))));
    bench.halt("Extra 41");
    bench.passMs(10_000);
    double metres = bench.train("Extra 41").metresToJoint();
    assertEquals(Optional.empty(), setOut(bench, 3, "Reefers"));
    assertEquals(metres, bench.train("Reefers").metresToJoint(), 1e-9);
    assertEquals(metres + 3 * CAR, bench.train("Extra 41").metresToJoint(), 1e-9);
    assertEquals(Optional.empty(), bench.run("Extra 41", Heading.WEST));
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s1"))));
    assertEquals(List.of(), bench.railway.mishaps());
  }

  @Test
  void carsJustSetOutCanBePickedUpOnTheSpot() {
    Bench bench =
        Bench.ready(plan(SmallPlan.straight(2, 2)), engineAnd(4, "Extra 41", "s1", Heading.EAST));
    setOut(bench, 3, "Reefers");
    assertEquals(Optional.empty(), pickUp(bench, "Reefers", Heading.WEST));
    assertTrue(bench.passUntil(() -> isAlone(bench)));
    assertEquals(4, bench.train("Extra 41").cars());
    assertEquals(Heading.WEST, bench.train("Extra 41").heading());
  }

  @Test
  void cutOfCarsDoesNotRun() {
    Bench bench = twoOnALine(Heading.EAST);
    assertEquals(
        Optional.of("'Hoppers' has no engine; a train must pick it up"), bench.run("Hoppers"));
    assertEquals(
        Optional.of("'Hoppers' has no engine; a train must pick it up"),
        bench.railway.tell(
            new Command.PickUp("Extra 41", "Hoppers", Optional.empty(), HERE, HERE)));
    bench.passMs(10_000);
    assertEquals(Activity.STANDING, bench.train("Hoppers").activity());
  }

  @Test
  void trainsOfOldFilesHaveAnEngine() {
    assertTrue(new TrainSpec("Extra 41", "s1", Heading.EAST, 1, 0.3).engine());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "5 |       | Reefers  | train 'Extra 41' can leave no more than 4 cars at its rear",
        "1 | FRONT | Reefers  | train 'Extra 41' can leave no more than 0 cars at its front",
        "1 |       | Extra 41 | train 'Extra 41' is on the track; give the cars another name",
      })
  void cutThatCannotBeMadeIsRefused(int count, End end, String name, String why) {
    Bench bench =
        Bench.ready(plan(SmallPlan.straight(2)), engineAnd(4, "Extra 41", "s1", Heading.EAST));
    assertEquals(Optional.of(why), setOut(bench, count, Optional.ofNullable(end), name));
    assertEquals(1, bench.railway.trains().size());
  }

  @Test
  void movingTrainLeavesNoCars() {
    Bench bench =
        Bench.ready(plan(SmallPlan.straight(2)), engineAnd(4, "Extra 41", "s1", Heading.EAST));
    bench.run("Extra 41");
    bench.passMs(1_000);
    assertEquals(
        Optional.of("train 'Extra 41' is moving; halt it first"), setOut(bench, 1, "Reefers"));
  }

  @Test
  void trainWithEnginesAtBothEndsMustBeToldWhich() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(2, 2)),
            engineAnd(2, "Extra 41", "s1", Heading.WEST),
            engineAnd(2, "Second 7", "s2", Heading.EAST));
    pickUp(bench, "Second 7");
    assertTrue(bench.passUntil(() -> isAlone(bench)));
    assertEquals(
        Optional.of("train 'Extra 41' can leave cars at either end; say front or rear"),
        setOut(bench, 1, "Reefers"));
  }

  @Test
  void nobodyCountsCarsWhereItIsNotSaidHowLongTheyAre() {
    Bench bench =
        Bench.ready(
            SmallPlan.straight(2, 2).plan(),
            engineAnd(4, "Extra 41", "s1", Heading.EAST),
            cars(3, "Hoppers", "s2", Heading.EAST));
    assertEquals(
        Optional.of(
            "the layout file does not say how long a car is; add 'car length' under 'trains'"),
        setOut(bench, 1, "Reefers"));
    assertEquals(Optional.empty(), pickUp(bench, "Hoppers"));
    assertTrue(bench.passUntil(() -> isAlone(bench)));
  }

  /** The section holds 10 cars; a train of 12 stands over its joint. */
  @Test
  void moreCarsThanFitAreNotSetOut() {
    Bench bench =
        Bench.ready(plan(SmallPlan.straight(1, 1)), engineAnd(12, "Extra 41", "s2", Heading.EAST));
    assertEquals(
        Optional.of("11 cars do not fit on s1: it has room for 10 cars clear of its joints"),
        setOut(bench, 11, "Reefers"));
    assertEquals(
        Optional.of(
            "8 cars would stand foul of joint j1;"
                + " s1 has room for 10 cars clear of its joints: move the train"),
        setOut(bench, 8, "Reefers"));
    assertEquals(Optional.of("joint j1"), bench.train("Extra 41").foulOf());
    assertEquals(Optional.empty(), setOut(bench, 2, "Reefers"));
    assertEquals(Optional.empty(), bench.train("Reefers").foulOf());
  }

  @Test
  void carsThatStandThereTakeTheirRoom() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(1, 1)),
            engineAnd(8, "Extra 41", "s2", Heading.EAST),
            cars(6, "Stored", "s1", Heading.EAST));
    bench.run("Extra 41", Heading.WEST);
    bench.passMs(1_000);
    bench.halt("Extra 41");
    bench.passMs(5_000);
    assertEquals(List.of("s2", "s1"), bench.train("Extra 41").sections());
    assertEquals(
        Optional.of(
            "5 cars do not fit on s1: it has room for 10 cars clear of its joints,"
                + " and 6 stand there"),
        setOut(bench, 5, "Reefers"));
  }

  @Test
  void noCarIsLeftOnASwitch() {
    Bench bench =
        Bench.ready(plan(SmallPlan.junction()), engineAnd(4, "Extra 41", "west", Heading.EAST));
    bench.show("e", "clear");
    bench.run("Extra 41");
    assertTrue(bench.passUntil(() -> bench.railway.occupied().equals(List.of("os", "main"))));
    bench.halt("Extra 41");
    bench.show("e", "stop");
    bench.passMs(5_000);
    assertEquals(
        Optional.of("os has room for no car clear of its joints"), setOut(bench, 1, "Reefers"));
  }

  @Test
  void detectorUnderTwoTrainsIsClearOnlyBehindBoth() {
    Bench bench =
        Bench.ready(
            plan(SmallPlan.straight(1, 2)),
            engineAnd(0, "Extra 41", "s2", Heading.EAST),
            cars(3, "Hoppers", "s1", Heading.EAST));
    bench.run("Extra 41", Heading.WEST);
    assertTrue(bench.passUntil(() -> bench.train("Extra 41").sections().equals(List.of("s1"))));
    bench.halt("Extra 41");
    bench.passMs(5_000);
    bench.told();
    bench.run("Extra 41", Heading.EAST);
    bench.passMs(60_000);
    assertEquals(List.of("s2 occupied"), bench.told());
    bench.railway.lift("Hoppers");
    assertEquals(List.of("s1 clear"), bench.told());
  }

  /**
   * Whatever is picked up and set out in whatever order: no car is lost, none stands in another,
   * and the detectors tell just what stands on them.
   */
  @ParameterizedTest(name = "seed {0}")
  @ValueSource(longs = {1, 2, 3, 4, 5, 6})
  void carsAreNeitherLostNorMade(long seed) {
    SplittableRandom dice = new SplittableRandom(seed);
    TrackPlan plan = plan(SmallPlan.straight(1.05, 0.9, 1.3, 0.35, 1.5));
    Bench bench =
        Bench.ready(
            plan,
            engineAnd(5, "Extra 41", "s1", Heading.EAST),
            cars(4, "Hoppers", "s3", Heading.WEST),
            cars(6, "Tanks", "s5", Heading.EAST));
    int made = 0;
    int cuts = 0;
    int joins = 0;
    for (int order = 0; order < 120; order++) {
      List<String> names = names(bench);
      if (dice.nextInt(3) == 0) {
        End end = dice.nextBoolean() ? End.FRONT : End.REAR;
        boolean done =
            setOut(bench, 1 + dice.nextInt(4), Optional.of(end), "Cut " + made++).isEmpty();
        cuts += done ? 1 : 0;
      } else {
        Heading heading = dice.nextBoolean() ? Heading.EAST : Heading.WEST;
        pickUp(bench, names.get(dice.nextInt(names.size())), heading);
      }
      bench.passMs(dice.nextLong(20_000));
      joins += Math.max(0, names.size() - bench.railway.trains().size());
      assertEquals(List.of(), bench.railway.mishaps(), "seed " + seed);
      assertEquals(
          15, bench.railway.trains().stream().mapToInt(TrainState::cars).sum(), "seed " + seed);
      assertEquals(under(bench, plan.layout()), bench.railway.occupied(), "seed " + seed);
    }
    assertTrue(cuts > 3 && joins > 3, cuts + " cuts and " + joins + " joins");
  }

  private static List<String> under(Bench bench, Layout layout) {
    Set<String> under = new LinkedHashSet<>();
    bench.railway.trains().forEach(train -> under.addAll(train.sections()));
    return layout.sections().keySet().stream().filter(under::contains).toList();
  }
}
