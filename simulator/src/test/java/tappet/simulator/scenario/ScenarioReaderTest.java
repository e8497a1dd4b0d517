package tappet.simulator.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tappet.layout.Layout;
import tappet.layout.Trains;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.sentence.Command;
import tappet.sentence.Happening;
import tappet.simulator.TrainSpec;
import tappet.simulator.scenario.Scenario.Beginning;
import tappet.simulator.scenario.Step.When;
import tappet.source.Problem;
import tappet.source.Problems;

/** What a right scenario becomes; the wrong ones are in src/test/resources/wrong-scenarios. */
class ScenarioReaderTest {

  private static Names names;

  @BeforeAll
  static void readNames() throws IOException {
    names = DemoNames.names();
  }

  @Test
  void scenarioKeepsWhatIsWrittenInIt() {
    Scenario scenario =
        read(
            """
            scenario: A meet
            about: Two trains.
            begins: switched on
            clock: {rate: 4, time: "18:30"}
            trains: [{train: Extra 41, on: tilling-w, heading: west, length: 1.4 m, speed: 0.2}]
            given: [crew forces t1 reverse]
            never: [route t2e-t4e is locked]
            mishaps: [ran through]
            steps: [{pass: 8 s}]
            """);
    assertEquals("A meet", scenario.name());
    assertEquals(Optional.of("Two trains."), scenario.about());
    assertEquals(Beginning.SWITCHED_ON, scenario.begins());
    assertEquals(Optional.of(new Scenario.Clock(new Rate(16), new Time(18, 30))), scenario.clock());
    assertEquals(
        new TrainSpec("Extra 41", "tilling-w", Command.Heading.WEST, 1.4, 0.2),
        scenario.trains().get(0).spec());
    assertInstanceOf(Happening.CrewForces.class, scenario.given().get(0).happening());
    assertEquals("route t2e-t4e is locked", scenario.never().get(0).sentence());
    assertEquals(List.of("ran through"), scenario.mishaps());
    assertEquals("pass: 8 s", scenario.steps().get(0).words());
  }

  @Test
  void whatIsLeftOutIsUsual() {
    Scenario scenario =
        read(
            """
            scenario: Short
            trains: [{train: Extra 41, on: tilling-w, heading: east, length: 2 ft}]
            steps: [{pass: 1 s}]
            """);
    assertEquals(Beginning.READY, scenario.begins());
    assertEquals(0.4, scenario.trains().get(0).spec().speedMetresPerSecond());
    assertTrue(scenario.trains().get(0).spec().engine());
  }

  @Test
  void carsHaveNoEngine() {
    Scenario scenario =
        read(
            """
            scenario: Cars
            trains: [{train: Reefers, on: creamery, heading: east, length: 1 m, engine: no}]
            steps: [{pass: 1 s}]
            """);
    assertFalse(scenario.trains().get(0).spec().engine());
  }

  @Test
  void carsAreNotCountedWhereTheLayoutDoesNotSayHowLongTheyAre() {
    Layout layout = names.layout().runBy(Trains.UNKNOWN, List.of());
    Problems problems = new Problems();
    String text =
        """
        scenario: Cars
        trains: [{train: X, on: creamery, heading: east, length: 1 m}]
        steps: [{tell: set out 2 cars of X as Y}, {expect: train X has 2 cars}]
        """;
    ScenarioReader.read(
        new Library.Text("s.yaml", text),
        (from, name) -> Optional.empty(),
        new Names(layout, names.routes(), names.lines()),
        problems);
    String told =
        "the layout file does not say how long a car is;"
            + " add for example 'car length: 0.16 m' under its 'trains'";
    assertEquals(
        List.of("s.yaml:3:34: " + told, "s.yaml:3:58: " + told),
        problems.sorted().stream().map(Problem::toString).toList());
  }

  @Test
  void expectationHoldsAtItsTime() {
    Scenario scenario =
        read(
            """
            scenario: Times
            steps:
              - {expect: signal t2e is stop}
              - {expect: signal t2e is stop, within: 8 s}
              - {expect: signal t2e is stop, always: 1.5 s}
              - {expect: signal t2e is stop, never: 2 min}
              - {expect: signal t2e is stop, until: section tilling-w is clear}
              - {expect: signal t2e is stop, until: section tilling-w is clear, within: 5 s}
            """);
    assertInstanceOf(When.Now.class, when(scenario, 0));
    assertEquals(new When.Within("8 s", Duration.ofSeconds(8)), when(scenario, 1));
    assertEquals(new When.Always("1.5 s", Duration.ofMillis(1500)), when(scenario, 2));
    assertEquals(new When.Never("2 min", Duration.ofMinutes(2)), when(scenario, 3));
    assertEquals(When.Until.AT_MOST_USUAL, ((When.Until) when(scenario, 4)).atMost());
    assertEquals(Duration.ofSeconds(5), ((When.Until) when(scenario, 5)).atMost());
  }

  private static When when(Scenario scenario, int step) {
    return ((Step.Expect) scenario.steps().get(step)).when();
  }

  @Test
  void trainIsToldToRunByItsNameAlone() {
    Scenario scenario =
        read(
            """
            scenario: Run
            trains: [{train: Extra 41, on: tilling-w, heading: east, length: 1 m}]
            steps:
              - {run: Extra 41, heading: west}
              - {halt: Extra 41}
            """);
    Command.Run run =
        assertInstanceOf(Command.Run.class, ((Step.Tell) scenario.steps().get(0)).command());
    assertEquals("Extra 41", run.train());
    assertEquals(Optional.of(Command.Heading.WEST), run.heading());
    assertEquals("tell: run 'Extra 41' west", scenario.steps().get(0).words());
    assertEquals("tell: halt 'Extra 41'", scenario.steps().get(1).words());
  }

  @Test
  void stepsOfRepeatAndRandomAreReadAsAllOthers() {
    Scenario scenario =
        read(
            """
            scenario: Often
            steps:
              - repeat: 3
                steps: [{pass: 1 s}, {tell: cancel t2e, refused: nothing}]
              - random: {seed: 7, steps: 50, of: [{pass: 2 s}]}
            """);
    Step.Repeat repeat = (Step.Repeat) scenario.steps().get(0);
    assertEquals(3, repeat.times());
    assertEquals(Optional.of("nothing"), ((Step.Tell) repeat.steps().get(1)).refused());
    Step.AtRandom random = (Step.AtRandom) scenario.steps().get(1);
    assertEquals(7, random.seed());
    assertEquals(50, random.count());
    assertEquals(1, random.of().size());
  }

  @Test
  void whatIsIncludedComesFirst() {
    Map<String, String> files =
        Map.of(
            "first.yaml",
            """
            scenario: First
            trains: [{train: Extra 41, on: tilling-w, heading: east, length: 1 m}]
            steps: [{run: Extra 41}]
            """);
    Scenario scenario =
        read(
            """
            scenario: Then
            include: [first.yaml]
            steps: [{halt: Extra 41}]
            """,
            (from, name) ->
                Optional.ofNullable(files.get(name)).map(text -> new Library.Text(name, text)));
    assertEquals("Then", scenario.name());
    assertEquals(1, scenario.trains().size());
    assertEquals(
        List.of("tell: run 'Extra 41'", "tell: halt 'Extra 41'"),
        scenario.steps().stream().map(Step::words).toList());
    assertEquals("first.yaml", scenario.steps().get(0).place().file());
  }

  private static Scenario read(String text) {
    return read(text, (from, name) -> Optional.empty());
  }

  private static Scenario read(String text, Library library) {
    Problems problems = new Problems();
    Optional<Scenario> scenario =
        ScenarioReader.read(new Library.Text("s.yaml", text), library, names, problems);
    assertEquals(List.of(), problems.sorted());
    return scenario.orElseThrow();
  }
}
