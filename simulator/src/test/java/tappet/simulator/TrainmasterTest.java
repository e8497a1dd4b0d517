package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.simulator.Bench.train;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.sentence.Command;
import tappet.sentence.Command.Heading;
import tappet.source.Place;

/** What cannot be done is told in an owner's words. */
class TrainmasterTest {

  private final Bench bench =
      Bench.ready(SmallPlan.junction().plan(), train("Extra 41", "west", Heading.EAST, 0.5));

  @Test
  void unknownTrainIsToldWithTheNearestName() {
    assertEquals(
        Optional.of("there is no train 'Extra 14'; did you mean 'Extra 41'?"),
        bench.run("Extra 14"));
  }

  @Test
  void runningTrainIsNotTurned() {
    bench.run("Extra 41");
    bench.passMs(1_000);
    assertEquals(
        Optional.of("train 'Extra 41' is moving; halt it first"),
        bench.run("Extra 41", Heading.WEST));
  }

  @Test
  void commandsForTheDispatcherAreNoMatterForATrain() {
    var cancel = new Command.Cancel("e", Place.inText("test", 1));
    assertTrue(
        bench.railway.tell(cancel).orElseThrow().startsWith("this is no matter for a train"));
  }

  @ParameterizedTest(name = "{0} {1} {2} m")
  @CsvSource(
      delimiter = '|',
      value = {
        "Extra 41 | main | 0.5 | train 'Extra 41' is on the track; lift it first",
        "Second 7 | mian | 0.5 | there is no section 'mian'; did you mean 'main'?",
        "Second 7 | west | 0.5 | train 'Second 7' does not fit in section 'west'; train 'Extra 41' is in its way",
        "Second 7 | main | 9.0 | train 'Second 7' does not fit; no track of 9.0 m leads east through section 'main' as the switches lie",
        // The rear would stand on the reverse leg, while the switch lies normal.
        "Second 7 | siding | 3.5 | train 'Second 7' does not fit; no track of 3.5 m leads east through section 'siding' as the switches lie",
      })
  void trainThatDoesNotFitIsNotPlaced(String name, String section, double metres, String why) {
    List<String> before = bench.railway.occupied();
    assertEquals(Optional.of(why), bench.railway.place(train(name, section, Heading.EAST, metres)));
    assertEquals(before, bench.railway.occupied());
  }

  @Test
  void railwayIsNotBuiltWithATrainThatDoesNotFit() {
    var plan = SmallPlan.straight(1).plan();
    var trains = List.of(train("Extra 41", "s1", Heading.EAST, 2));
    assertThrows(IllegalArgumentException.class, () -> new Railway(plan, trains, frame -> {}));
  }

  @ParameterizedTest
  @CsvSource({"0, 1", "-1, 1", "NaN, 1", "1, 0", "1, Infinity"})
  void trainHasALengthAndASpeed(double metres, double speed) {
    assertThrows(
        IllegalArgumentException.class,
        () -> new TrainSpec("Extra 41", "s1", Heading.EAST, metres, speed));
  }
}
