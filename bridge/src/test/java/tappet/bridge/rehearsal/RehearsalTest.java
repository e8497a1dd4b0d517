package tappet.bridge.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.simulator.scenario.Library;
import tappet.simulator.scenario.Names;
import tappet.simulator.scenario.Scenario;
import tappet.simulator.scenario.ScenarioReader;
import tappet.source.Problems;

/** How a scenario fails; how they pass is shown by those of the demo. */
class RehearsalTest {

  private static final Path DEMO = Path.of("..", "config", "demo");
  private static final String TRAIN =
      "trains: [{train: Extra 41, on: west-main, heading: east, length: 1.4 m}]\n";

  private static Layout layout;
  private static ControlTable table;

  @BeforeAll
  static void readDemo() throws IOException {
    Problems problems = new Problems();
    layout = LayoutReader.read("l", text("layout.yaml"), problems).orElseThrow();
    table = RuleReader.read("r", text("rules.yaml"), layout, problems).orElseThrow();
  }

  private static String text(String file) throws IOException {
    return Files.readString(DEMO.resolve(file));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "{expect: signal t2e is clear}|it is not so: signal t2e is stop",
        "{expect: signal t2e is clear, within: 3 s}|it has not come about: signal t2e is stop",
        "{expect: signal t2e is clear, always: 3 s}|it does not last: signal t2e is stop",
        "{expect: signal t2e is stop, never: 3 s}|it has come about: signal t2e is stop",
        "{expect: signal t2e is stop, until: signal t2e is clear, within: 3 s}"
            + "|the end has not come about: signal t2e is stop",
        "{expect: signal t2e is clear, until: signal t4e is clear}"
            + "|it has ended too early: signal t2e is stop",
        "{tell: line t2e to t4e, refused: nothing}|it was done, and not refused",
        "{tell: unfleet t2e}|it was refused:",
        "{tell: throw q1 reverse, refused: a miracle}|it was refused without 'a miracle':",
        "{happens: crew throws q1 reverse}|it was refused:",
        "{why: t2e, says: a miracle}|the answer has no 'a miracle' in it:",
        "{repeat: 2, steps: [{expect: section tilling-w is occupied}]}"
            + "|it is not so: section tilling-w is clear",
      })
  void stepThatDoesNotGoAsExpectedIsTold(String step, String wrong) {
    Failure failure = failure("scenario: x\nsteps:\n  - " + step + "\n");
    assertEquals(wrong, failure.wrong().lines().findFirst().orElseThrow());
    assertEquals(3, failure.place().line());
  }

  @Test
  void whatMustNeverBeSoIsSeenBetweenSteps() {
    Failure failure =
        failure(
            """
            scenario: x
            never: [route t2e-t4e is locked]
            steps:
              - pass: 3 s
              - tell: line t2e to t4e
            """);
    assertEquals("never: route t2e-t4e is locked", failure.step());
    assertEquals(2, failure.place().line());
    assertTrue(failure.wrong().startsWith("it has come about during 'tell: line t2e to t4e'"));
    assertEquals(3_000_000_000L, failure.atNs());
  }

  @Test
  void mishapThatNobodyExpectsEndsTheScenario() {
    Failure failure =
        failure(
            "scenario: x\n"
                + TRAIN
                + """
                steps:
                  - fault: train 'Extra 41' ignores signals
                  - run: Extra 41
                  - pass: 1 min
                """);
    assertEquals("this went wrong: Extra 41 went by Tilling 2E at Stop", failure.wrong());
    assertEquals("pass: 1 min", failure.step());
  }

  @Test
  void mishapThatIsExpectedMustHappen() {
    Failure failure = failure("scenario: x\nmishaps: [ran through]\nsteps: [{pass: 1 s}]\n");
    assertEquals("'ran through' has not gone wrong", failure.wrong());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "train 'Extra 41' has 2 cars" + "|train Extra 41 stands on west-main, with 8 cars",
        "train 'Extra 41' is foul|train Extra 41 stands on west-main",
      })
  void howATrainIsInsteadIsTold(String expected, String seen) {
    Failure failure = failure("scenario: x\n" + TRAIN + "steps:\n  - expect: " + expected + "\n");
    assertEquals("it is not so: " + seen, failure.wrong());
  }

  @Test
  void trainThatDoesNotFitIsTold() {
    Failure failure =
        failure(
            """
            scenario: x
            trains: [{train: Long, on: fallow-1, heading: east, length: 30 m}]
            steps: [{pass: 1 s}]
            """);
    assertTrue(failure.wrong().startsWith("train 'Long' does not fit"), failure.wrong());
    assertEquals("train: Long", failure.step());
  }

  /** For a proof, say, that is to be watched at work. */
  @Test
  void watchSeesEveryStepAndCanEndTheScenario() {
    List<Long> times = new ArrayList<>();
    Result result =
        run(
            "scenario: x\nsteps: [{tell: line t2e to t4e}, {pass: 5 s}]\n",
            (step, nowNs) -> {
              times.add(nowNs);
              boolean clears = step.changes().stream().anyMatch(what -> what.contains("approach"));
              return clears ? Optional.of("a signal has cleared") : Optional.empty();
            });
    assertEquals("a signal has cleared", result.failure().orElseThrow().wrong());
    assertEquals("tell: line t2e to t4e", result.failure().orElseThrow().step());
    assertFalse(times.isEmpty());
    assertEquals(times.stream().sorted().toList(), times);
  }

  @Test
  void onlookerThatFailsItselfIsNotMissed() {
    Result result =
        run(
            "scenario: x\nsteps: [{pass: 5 s}]\n",
            (step, nowNs) -> {
              throw new IllegalStateException("nobody looks");
            });
    assertEquals(
        "the onlooker has failed: java.lang.IllegalStateException: nobody looks",
        result.failure().orElseThrow().wrong());
  }

  // Replay: the same inputs give the same steps, also by chance (DEVELOPERS.md, rule 2).
  @Test
  void sameSeedIsTheSameRun() {
    assertEquals(changes(7), changes(7));
    assertFalse(changes(7).equals(changes(8)));
  }

  private static List<String> changes(int seed) {
    List<String> changes = new ArrayList<>();
    Result result =
        run(
            "scenario: x\n"
                + TRAIN
                + "steps: [{random: {seed: "
                + seed
                + ", steps: 60, of: [{tell: line t2e to t4e}, {tell: line t2e to t6e},"
                + " {tell: cancel t2e}, {run: Extra 41}, {pass: 3 s}]}}]\n",
            (step, nowNs) -> {
              step.changes().forEach(what -> changes.add(nowNs + " " + what));
              return Optional.empty();
            });
    assertEquals(Optional.empty(), result.failure());
    return changes;
  }

  /** 49 CFR 236.5: nothing that was known outlives the power but who is protected. */
  @Test
  void daemonThatWasStoppedKnowsNothingButWhoIsProtected() {
    Result result =
        run(
            "scenario: x\n"
                + TRAIN
                + """
                steps:
                  - tell: block switch t1 for 'Section crew'
                  - tell: line f2e to t2e
                    refused: west-main
                  - tell: line t4e to m2e
                  - {expect: signal t4e is clear, within: 5 s}
                  - fault: breaker of east trips
                  - expect: alarm 'is tripped' stands
                  - fault: daemon is stopped
                  - expect: not alarm 'is tripped' stands and section west-main is unknown
                  - expect: route t4e-m2e is not locked and switch t1 is blocked
                  - {tell: line t2e to t4e, refused: the daemon is stopped}
                  - {expect: section west-main is unknown, always: 1 min}
                  - fault: cable is pulled
                  - happens: daemon is started
                  - {expect: section west-main is unknown, always: 20 s}
                  - happens: cable is plugged in
                  - {expect: section west-main is occupied and alarm 'is tripped' stands, within: 5 s}
                  - expect: switch t1 is blocked
                  - {tell: throw t1 reverse, refused: Section crew}
                """,
            Onlooker.NONE);
    assertEquals(Optional.empty(), result.failure());
  }

  @Test
  void daemonIsStoppedAndStartedOnce() {
    Result result =
        run(
            """
            scenario: x
            steps:
              - happens: daemon is started
              - expect: section west-main is clear
              - fault: daemon is stopped
              - fault: daemon is stopped
              - happens: daemon is started
              - {expect: section west-main is clear, within: 5 s}
              - happens: daemon is started
              - expect: section west-main is clear
            """,
            Onlooker.NONE);
    assertEquals(Optional.empty(), result.failure());
  }

  @Test
  void coverageTellsWhatHasBeenTriedAndWhatNot() {
    Coverage coverage = new Coverage(layout, table);
    Scenario scenario =
        read(
            """
            scenario: x
            steps:
              - tell: line t2e to t4e
              - {tell: line t2e to t6e, refused: t2e-t4e}
              - tell: cancel t2e
              - {tell: release q1}
              - fault: motor of t1 sticks
            """);
    Rehearsal.of(scenario, layout, table, Onlooker.NONE, coverage);
    String text = coverage.text();
    assertTrue(text.contains("  1 of  22  routes lined\n"), text);
    assertTrue(text.contains("  1 of  20  routes refused\n"), text);
    assertTrue(text.contains("  1 of  20  routes cancelled\n"), text);
    assertTrue(text.contains("  1 of  33  things that can befall a railroad\n"), text);
    String lined = text.lines().skip(1).findFirst().orElseThrow();
    assertTrue(lined.contains("not tried: f2e-t2e, f4e-t2e"), lined);
    assertFalse(lined.contains("t2e-t4e"), lined);
  }

  private static Failure failure(String text) {
    return run(text, Onlooker.NONE).failure().orElseThrow();
  }

  private static Result run(String text, Onlooker onlooker) {
    return Rehearsal.of(read(text), layout, table, onlooker, new Coverage(layout, table));
  }

  private static Scenario read(String text) {
    Problems problems = new Problems();
    Names names = new Names(layout, table.routes().keySet(), table.lines().keySet());
    Optional<Scenario> scenario =
        ScenarioReader.read(
            new Library.Text("s.yaml", text), (from, name) -> Optional.empty(), names, problems);
    assertEquals(List.of(), problems.sorted());
    return scenario.orElseThrow();
  }
}
