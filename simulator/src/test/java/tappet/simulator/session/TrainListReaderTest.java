package tappet.simulator.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.simulator.scenario.TrainReader;
import tappet.simulator.session.ListedTrain.Call;
import tappet.simulator.session.ListedTrain.Named;
import tappet.simulator.session.ListedTrain.Start;
import tappet.simulator.session.ListedTrain.Then;
import tappet.source.Problem;
import tappet.source.Problems;

/** What a right train list becomes; the wrong ones are in src/test/resources/wrong-sessions. */
class TrainListReaderTest {

  @Test
  void trainIsReadWithAllThatItDoes() throws IOException {
    ListedTrain train =
        only(
            """
            - train: Way Freight
              length: 120 cm
              speed: 0.3
              from: fallow-1
              calls:
                - {at: tilling-siding, work: 10 min}
                - {at: yard-lead, work: 1 h, permit: [yard-throat, yard-lead], release: y1}
              to: yard-lead
              at: 11:05
              then: goes back and is lifted
              again: 8 h
            """);
    assertEquals("Way Freight", train.name());
    assertEquals(1.2, train.lengthMetres(), 1e-9);
    assertEquals(0.3, train.speedMetresPerSecond());
    assertEquals("fallow-1", train.from().name());
    assertEquals("yard-lead", train.to().name());
    assertEquals(new Start.At(new Time(11, 5)), train.start());
    assertEquals(Then.GOES_BACK_AND_IS_LIFTED, train.then());
    assertTrue(train.then().returns() && train.then().isLifted());
    assertEquals(Optional.of(Duration.ofHours(8)), train.again());
    assertEquals(2, train.calls().size());
    Call yard = train.calls().get(1);
    assertEquals(Duration.ofHours(1), yard.work());
    assertEquals(
        List.of("yard-throat", "yard-lead"), yard.permit().stream().map(Named::name).toList());
    assertEquals(Optional.of("y1"), yard.release().map(Named::name));
  }

  @Test
  void whatIsLeftOutIsTheUsual() throws IOException {
    ListedTrain train =
        only("- {train: Local, length: 1 m, from: fallow-1, to: corvane-main, at: 06:00}\n");
    assertEquals(TrainReader.SPEED_USUAL, train.speedMetresPerSecond());
    assertEquals(Then.STAYS, train.then());
    assertEquals(List.of(), train.calls());
    assertEquals(Optional.empty(), train.again());
  }

  @Test
  void trainMayWaitForAnother() throws IOException {
    TrainList list =
        read(
            """
            - {train: One, length: 1 m, from: fallow-1, to: corvane-main, at: 06:00}
            - {train: Two, length: 1 m, from: fallow-2, to: mill-branch, after: One}
            """);
    Start.After after = assertInstanceOf(Start.After.class, list.trains().get(1).start());
    assertEquals("One", after.train().name());
    assertEquals(8, after.train().place().line() + 3, "its place is that of the name");
  }

  /** One that goes round a loop is where it began without going back. */
  @Test
  void trainThatEndsWhereItBeganCanBeginAgain() throws IOException {
    ListedTrain train =
        only(
            "- {train: Round, length: 1 m, from: fallow-1, calls: [{at: corvane-main}],"
                + " to: fallow-1, at: 06:00, again: 1 h}\n");
    assertTrue(train.canBeginAgain());
  }

  @Test
  void clockIsThatOfTheList() throws IOException {
    TrainList.Clock clock = read("- " + LOCAL).clock();
    assertEquals(2.5, clock.minutesPerMinute());
    assertEquals(6 * 60 + 30, clock.startMinute());
  }

  @Test
  void listOfTheDemoHasTwelveTrainsAndNoMistake() throws IOException {
    Problems problems = new Problems();
    var list = TrainListReader.read("session.yaml", Demo.trainList(), Demo.layout(), problems);
    assertEquals(List.of(), problems.sorted());
    assertEquals(12, list.orElseThrow().trains().size());
  }

  private static final String LOCAL =
      "{train: Local, length: 1 m, from: fallow-1, to: corvane-main, at: 06:00}\n";

  private static ListedTrain only(String train) throws IOException {
    return read(train).trains().get(0);
  }

  private static TrainList read(String trains) throws IOException {
    Problems problems = new Problems();
    String text = "session: Test\nclock: {rate: 2.5, time: 06:30}\ntrains:\n" + trains;
    Optional<TrainList> list = TrainListReader.read("session.yaml", text, Demo.layout(), problems);
    assertEquals(List.of(), problems.sorted().stream().map(Problem::toString).toList());
    return list.orElseThrow();
  }
}
