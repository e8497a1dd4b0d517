package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.network.Altered;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * What the solver finds of an unrolled network is what is there: a search through every state,
 * which shares no line with the unrolling, finds the same in the same tick. To try other seeds:
 * {@code mvn -pl rules -am test -Dtest='ExplicitSearchTest' -Dsurefire.failIfNoSpecifiedTests=false
 * -Dtappet.seed=N}.
 */
class ExplicitSearchTest {

  private static final int NETWORKS = 100;
  private static final int TICKS = 6;
  private static final int MISTAKES = 20;

  /** A train is granted a route, runs and leaves it within so many. */
  private static final int RAILROAD_TICKS = 12;

  /** More ticks than any way to a new state of the smallest railroads. */
  private static final int EVERY_STATE = 60;

  /** What is left out there, so that the states are few enough: it never happens. */
  private static final Pattern LEFT_OUT =
      Pattern.compile(".*(permit|blocked|flagged|restored|protections|emergency off).*");

  /** 1 unless the command line says otherwise: the build is the same each time. */
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);

  static LongStream seeds() {
    return LongStream.range(FIRST_SEED, FIRST_SEED + NETWORKS);
  }

  static Stream<Named<Watched>> smallestRailroads() {
    return Stream.of(Named.of("block", Railroads.block()), Named.of("fork", Railroads.fork()));
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void eachVariableOfARandomNetworkChangesInTheSameTick(long seed) {
    Network network = TimedNetwork.of(seed);
    List<Variable> asked = network.variables();
    ExplicitSearch search = new ExplicitSearch(network, asked);
    search.search(TICKS);
    BoundedSearch bounded = new BoundedSearch(network);
    assertEquals(search.firstTrue(), bounded.first(true, asked, TICKS), "seed " + seed);
    assertEquals(search.firstFalse(), bounded.first(false, asked, TICKS), "seed " + seed);
  }

  /** A question that writes less than everything demands less: it may find more, never less. */
  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void whatAQuestionLeavesOutHidesNothing(long seed) {
    Network network = TimedNetwork.of(seed);
    ExplicitSearch search = new ExplicitSearch(network, network.variables());
    search.search(TICKS);
    BoundedSearch bounded = new BoundedSearch(network);
    search
        .firstTrue()
        .forEach(
            (variable, tick) ->
                assertTrue(
                    bounded.canBe(variable, true, tick),
                    "seed " + seed + ", " + variable + " in tick " + tick));
  }

  @ParameterizedTest
  @MethodSource("smallestRailroads")
  void smallestRailroadsAreSafeInEveryState(Watched watched) {
    Network network = withFewStates(watched.network());
    ExplicitSearch search = new ExplicitSearch(network, properties(watched));
    search.search(EVERY_STATE);
    assertTrue(search.ticks() < EVERY_STATE, "new states after " + search.ticks() + " ticks");
    assertEquals(Map.of(), search.firstFalse());
    assertEquals(Map.of(), violated(network, properties(watched)));
  }

  @ParameterizedTest
  @MethodSource("smallestRailroads")
  void everyStateAndTheSolverTellTheSameOfAMistake(Watched watched) {
    Network network = withFewStates(watched.network());
    List<Variable> properties = properties(watched);
    int dangerous = 0;
    for (Mistake mistake : Mistake.in(network, properties, MISTAKES, FIRST_SEED)) {
      ExplicitSearch search = new ExplicitSearch(mistake.network(), properties);
      search.search(RAILROAD_TICKS);
      assertEquals(
          search.firstFalse(),
          violated(mistake.network(), properties),
          "seed " + FIRST_SEED + ", " + mistake.words());
      dangerous += search.firstFalse().isEmpty() ? 0 : 1;
    }
    String found = dangerous + " of " + MISTAKES + " mistakes dangerous, seed " + FIRST_SEED;
    System.out.println("ExplicitSearchTest: " + found);
    assertTrue(dangerous > 0 && dangerous < MISTAKES, found);
  }

  private static Map<Variable, Integer> violated(Network network, List<Variable> properties) {
    return new BoundedSearch(network).first(false, properties, RAILROAD_TICKS);
  }

  private static Network withFewStates(Network network) {
    return Altered.tied(
        network,
        pulses(network.variables()).stream()
            .filter(pulse -> LEFT_OUT.matcher(pulse.name()).matches())
            .collect(Collectors.toMap(Function.identity(), pulse -> false)));
  }

  private static List<Variable> pulses(Collection<Variable> variables) {
    return variables.stream().filter(any -> any.kind() == Variable.Kind.PULSE).toList();
  }

  private static List<Variable> properties(Watched watched) {
    return watched.properties().stream().map(Property::holds).toList();
  }
}
