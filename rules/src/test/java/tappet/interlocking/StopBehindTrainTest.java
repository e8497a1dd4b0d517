package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.Desk.Railroad;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Unrolling;

/**
 * A signal is at Stop in the very tick in which its train comes (49 CFR 236.205, F.1 S4), and not
 * only when the step has settled: nothing that reads it in between is told that it proceeds.
 */
class StopBehindTrainTest {

  private final Network network = Between.started().interlocking.network();
  private final Stepper stepper = new Stepper(network);
  private final List<String> changes = new ArrayList<>();

  // 49 CFR 236.308: also where the last section may be occupied.
  @ParameterizedTest
  @CsvSource({
    "b2e, b2e-m2e, asked, mid-1",
    "c4e, c4e-e, asked, east-os",
    "c4e, c4e-e, call on asked, east-os",
  })
  void signalFallsBeforeItsTrainIsTakenForCome(
      String signal, String route, String asked, String first) {
    String proceeds = "signal " + signal + ": proceeds";
    String trainIn = "route " + route + ": train in " + first;
    String called = "route " + route + ": signal called";
    beginTheDay();
    stepper.pulse(network.named("route " + route + ": " + asked));
    step();
    assertTrue(stepper.value(network.named(proceeds)));
    stepper.set(network.named("section " + first + ": occupied"), true);
    step();
    assertEquals(
        List.of(proceeds + " is false", trainIn + " is true", called + " is false"),
        changes.stream()
            .filter(
                change -> change.matches("(%s|%s|%s) is .*".formatted(proceeds, trainIn, called)))
            .limit(3)
            .toList());
  }

  static Stream<Railroad> railroads() {
    return Stream.of(Railroad.GROWN, Between.SPURRED, Kinds.RAILROAD, Creamery.RAILROAD);
  }

  // In no state at all, whether anything leads to it or not: whatever its detectors tell next.
  @ParameterizedTest
  @MethodSource("railroads")
  void noSignalProceedsByARouteWhoseTrainHasCome(Railroad railroad) {
    Network whole = new Interlocking(railroad.layout(), railroad.table()).network();
    railroad.table().routes().values().stream()
        .filter(row -> !row.automatic())
        .forEach(
            row -> {
              String role = "route " + row.id() + ": ";
              Variable trainHasCome = whole.named(role + "train in " + row.path().get(0));
              assertEquals(
                  Solver.Outcome.IMPOSSIBLE,
                  search(whole, whole.named(role + "proceeds"), trainHasCome),
                  row.id());
              assertEquals(
                  Solver.Outcome.SATISFIED,
                  search(whole, whole.named(role + "proceeds")),
                  row.id());
            });
  }

  /** Whether there is a state in which some variables are true. */
  private static Solver.Outcome search(Network network, Variable... all) {
    Solver solver = new Solver();
    Unrolling unrolling = new Unrolling(network, solver, Unrolling.From.ANYWHERE);
    for (Variable variable : all) {
      solver.demand(unrolling.literal(variable, 0));
    }
    return solver.search();
  }

  /** Everything is heard to be clear, and every time that runs has run. */
  private void beginTheDay() {
    network.variables().stream()
        .filter(variable -> variable.name().matches("section .*: known|switch .*: detected normal"))
        .forEach(heard -> stepper.set(heard, true));
    step();
    for (Timer timer : network.timers()) {
      if (stepper.value(timer.running())) {
        stepper.pulse(timer.runsOut());
        step();
      }
    }
  }

  /** Lets the network settle, and keeps what has changed, tick by tick. */
  private void step() {
    changes.clear();
    stepper.step((variable, value) -> changes.add(variable.name() + " is " + value));
  }
}
