package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.ShortestReasons.Question.WHAT_KEEPS_IT_SO;
import static tappet.network.ShortestReasons.Question.WHAT_MAKES_IT_SO;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.network.ShortestReasons.Question;

/**
 * The facts that are named answer the question, and are the fewest, both checked by trying them out
 * on the equations. To try other seeds: {@code mvn test -pl shared,rules -Dtest=ShortestReasonsTest
 * -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class ShortestReasonsTest {

  private static final int NETWORKS = 200;
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);

  static LongStream seeds() {
    return LongStream.range(FIRST_SEED, FIRST_SEED + NETWORKS);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void whatKeepsAValueChangesItWhenItChanges(long seed) {
    for (boolean sharing : List.of(false, true)) {
      Drawn drawn = new Drawn(seed, sharing);
      Set<Variable> facts = drawn.factsOf(WHAT_KEEPS_IT_SO);
      assertEquals(!drawn.now(), drawn.with(facts), drawn.toString());
    }
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void whatMakesAValueSoIsEnoughWhateverElseChanges(long seed) {
    for (boolean sharing : List.of(false, true)) {
      Drawn drawn = new Drawn(seed, sharing);
      Set<Variable> others = new LinkedHashSet<>(drawn.facts);
      others.removeAll(drawn.factsOf(WHAT_MAKES_IT_SO));
      for (Set<Variable> changed : subsetsOf(others)) {
        assertEquals(drawn.now(), drawn.with(changed), drawn.toString());
      }
    }
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void noSmallerSetWouldDoWhereNoFactIsShared(long seed) {
    Drawn drawn = new Drawn(seed, false);
    int keeping = drawn.factsOf(WHAT_KEEPS_IT_SO).size();
    int making = drawn.factsOf(WHAT_MAKES_IT_SO).size();
    for (Set<Variable> changed : subsetsOf(drawn.facts)) {
      if (drawn.with(changed) != drawn.now()) {
        assertTrue(changed.size() >= keeping, drawn + " would change by " + changed);
      }
    }
    for (Set<Variable> kept : subsetsOf(drawn.facts)) {
      if (drawn.staysSoWith(kept)) {
        assertTrue(kept.size() >= making, drawn + " is made so by " + kept);
      }
    }
  }

  /** Cases in which there was nothing to choose would prove little. */
  @Test
  void seedsAreWorthAsking() {
    long choices =
        seeds()
            .mapToObj(seed -> new Drawn(seed, true))
            .filter(drawn -> drawn.factsOf(WHAT_KEEPS_IT_SO).size() > 1)
            .filter(drawn -> drawn.factsOf(WHAT_KEEPS_IT_SO).size() < drawn.facts.size() - 1)
            .count();
    assertTrue(choices > NETWORKS / 4, choices + " of " + NETWORKS);
  }

  /** Each link reads the one before it twice: two ways through each, and 2^200 in all. */
  @Test
  void costGrowsWithTheEquationsAndNotWithTheWaysThroughThem() {
    NetworkBuilder builder = new NetworkBuilder();
    Variable link = builder.input("first", Words.fact("first", "not first"));
    for (int number = 0; number < 200; number++) {
      Expression twice = all(any(is(link), is(link)), any(is(link), is(link)));
      link = builder.equation("link " + number, Words.because("linked", "not linked"), twice);
    }
    ShortestReasons search = search(WHAT_KEEPS_IT_SO, new Stepper(builder.build()));
    assertEquals(1, search.factsOf(link).orElseThrow().size());
    assertTrue(search.partsLookedAt() < 200 * 30, search.partsLookedAt() + " parts");
  }

  private static ShortestReasons search(Question question, Stepper stepper) {
    return new ShortestReasons(
        question, stepper, (variable, value) -> variable.words().when(value));
  }

  private static List<Set<Variable>> subsetsOf(Set<Variable> variables) {
    List<Set<Variable>> subsets = new ArrayList<>(List.of(Set.of()));
    for (Variable variable : variables) {
      for (Set<Variable> without : List.copyOf(subsets)) {
        Set<Variable> with = new HashSet<>(without);
        with.add(variable);
        subsets.add(with);
      }
    }
    return subsets;
  }

  /**
   * A random equation over few facts, each of which it wants one way only, in a random state. Its
   * facts are inputs, and an equation that is told as a fact; it reads them through equations that
   * are told and ones that are not.
   */
  private static final class Drawn {

    private static final int FACTS_MAX = 7;
    private static final int DEPTH_MAX = 4;

    private final Set<Variable> facts = new LinkedHashSet<>();
    private final Random random;
    private final boolean sharing;
    private final NetworkBuilder builder = new NetworkBuilder();
    private final List<Expression> literals = new ArrayList<>();
    private final List<Variable> equations = new ArrayList<>();
    private final Variable asked;
    private final Stepper stepper;
    private final String name;

    /**
     * @param sharing whether several parts may read the same fact
     */
    Drawn(long seed, boolean sharing) {
      this.random = new Random(seed);
      this.sharing = sharing;
      this.name = "seed " + seed + (sharing ? " with" : " without") + " shared facts";
      for (int number = 0; number < FACTS_MAX; number++) {
        Variable fact = fact("fact " + number);
        facts.add(fact);
        literals.add(random.nextBoolean() ? is(fact) : new Expression.Not(is(fact)));
      }
      Expression meaning = whole(random.nextInt(2) == 0, DEPTH_MAX);
      asked = builder.equation("asked", Words.because("so", "not so"), meaning);
      stepper = new Stepper(builder.build());
      stepper.network().variables().stream()
          .filter(variable -> variable.kind() == Variable.Kind.INPUT)
          .forEach(input -> stepper.set(input, random.nextBoolean()));
      stepper.step((variable, value) -> {});
    }

    private Variable fact(String fact) {
      Words words = Told.words(fact);
      return random.nextInt(4) == 0
          ? builder.equation(fact, words, is(builder.input("behind " + fact, words)))
          : builder.input(fact, words);
    }

    private Expression whole(boolean isAll, int depth) {
      List<Expression> parts = new ArrayList<>();
      int count = 2 + random.nextInt(2);
      for (int part = 0; part < count && !literals.isEmpty(); part++) {
        parts.add(part(!isAll, depth - 1));
      }
      return isAll ? all(parts) : any(parts);
    }

    private Expression part(boolean isAll, int depth) {
      if (depth == 0 || literals.size() == 1 || random.nextInt(4) == 0) {
        return literal();
      }
      return switch (random.nextInt(sharing ? 5 : 4)) {
        case 0 -> whole(isAll, depth);
        case 1 -> new Expression.Not(new Expression.Not(whole(isAll, depth)));
        case 2 -> is(equation(Words.through(), whole(isAll, depth)));
        case 3 -> is(equation(Words.because("a part", "no part"), whole(isAll, depth)));
        default -> anotherOnceMore();
      };
    }

    private Variable equation(Words words, Expression meaning) {
      Variable equation = builder.equation("equation " + equations.size(), words, meaning);
      equations.add(equation);
      return equation;
    }

    private Expression anotherOnceMore() {
      return equations.isEmpty() ? literal() : is(equations.get(random.nextInt(equations.size())));
    }

    private Expression literal() {
      int index = random.nextInt(literals.size());
      return sharing ? literals.get(index) : literals.remove(index);
    }

    Set<Variable> factsOf(Question question) {
      return search(question, stepper).factsOf(asked).orElseThrow();
    }

    boolean now() {
      return stepper.value(asked);
    }

    /** What it would be if some facts were the opposite of what they are. */
    boolean with(Set<Variable> changed) {
      return Supposed.value(asked, stepper, changed);
    }

    /** It would be what it is, whatever the facts besides those kept were. */
    boolean staysSoWith(Set<Variable> kept) {
      Set<Variable> others = new LinkedHashSet<>(facts);
      others.removeAll(kept);
      return subsetsOf(others).stream().allMatch(changed -> with(changed) == now());
    }

    @Override
    public String toString() {
      return name + ": " + stepper.network().equations();
    }
  }
}
