package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.ShortestReasons.Question.WHAT_KEEPS_IT_SO;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.interlocking.Interlocking;
import tappet.measure.Railroad;

/**
 * Reasons in the networks of whole railroads. To try other seeds: {@code mvn test -pl shared,rules
 * -Dtest=ReasonsOfRailroadsTest -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class ReasonsOfRailroadsTest {

  private static final int STATES = 20;
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);
  private static final Network DEMO = networkOf(Railroad.DEMO);

  static LongStream seeds() {
    return LongStream.range(FIRST_SEED, FIRST_SEED + STATES);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void whatIsToldWouldChangeWithTheFactsThatAreNamed(long seed) {
    Stepper stepper = inARandomState(DEMO, seed);
    int asked = 0;
    for (Variable told : told(DEMO)) {
      Optional<Set<Variable>> facts = search(stepper).factsOf(told);
      if (facts.isPresent()) {
        boolean changed = Supposed.value(told, stepper, facts.get());
        assertEquals(!stepper.value(told), changed, told + ", seed " + seed + ": " + facts.get());
        asked++;
      }
    }
    assertTrue(asked > 200, asked + " asked");
  }

  /** To explain all of a thousand control points costs twenty times as much as of fifty. */
  @Test
  void costOfReasonsGrowsWithTheRailroad() {
    double ofFifty = partsLookedAt("10");
    double ofAThousand = partsLookedAt("200");
    assertEquals(20.0, ofAThousand / ofFifty, 0.5, ofFifty + ", " + ofAThousand + " parts");
  }

  private static long partsLookedAt(String groups) {
    Network network = networkOf(groups);
    Stepper stepper = inARandomState(network, FIRST_SEED);
    long parts = 0;
    for (Variable told : told(network)) {
      ShortestReasons search = search(stepper);
      search.of(told);
      parts += search.partsLookedAt();
    }
    return parts;
  }

  /** Equations that say something to people; the others never stand alone in an answer. */
  private static List<Variable> told(Network network) {
    return network.equations().keySet().stream()
        .filter(variable -> !variable.words().whenFalse().isEmpty())
        .toList();
  }

  private static Network networkOf(String railroad) {
    Railroad read = Railroad.named(railroad);
    return new Interlocking(read.layout(), read.table()).network();
  }

  private static ShortestReasons search(Stepper stepper) {
    return new ShortestReasons(
        WHAT_KEEPS_IT_SO, stepper, (variable, value) -> variable.words().when(value));
  }

  /** Inputs at random, most devices known to report, and many things asked for at once. */
  private static Stepper inARandomState(Network network, long seed) {
    Random random = new Random(seed);
    Stepper stepper = new Stepper(network);
    for (Variable variable : network.variables()) {
      if (variable.kind() == Variable.Kind.INPUT) {
        boolean reports = variable.name().matches(".*: (known|reported).*");
        stepper.set(variable, random.nextInt(20) < (reports ? 19 : 5));
      } else if (variable.name().equals("start: time runs out") || asksFor(variable, random)) {
        stepper.pulse(variable);
      }
    }
    stepper.step((variable, value) -> {});
    return stepper;
  }

  private static boolean asksFor(Variable variable, Random random) {
    return variable.kind() == Variable.Kind.PULSE && random.nextInt(5) == 0;
  }
}
