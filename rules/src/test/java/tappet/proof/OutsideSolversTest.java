package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Clauses;
import tappet.proof.sat.Dimacs;
import tappet.proof.sat.Solver;
import tappet.proof.sat.Solver.Outcome;
import tappet.proof.sat.Unrolling;

/**
 * Solvers that we did not write give the same verdicts as ours, on the questions that proofs and
 * counterexamples are made of. To try other seeds: {@code mvn -pl rules -am test
 * -Dtest='OutsideSolversTest' -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class OutsideSolversTest {

  private static final int FORMULAS = 150;
  private static final int MISTAKES = 12;

  /** A train is granted a route, runs and leaves it within so many. */
  private static final int TICKS = 12;

  private static final int DEMO_TICKS = 5;

  /** Of the properties of the demo one in so many is asked about. */
  private static final int DEMO_STRIDE = 20;

  /** So many show enough of a railroad that no lemma is missing for its proof. */
  private static final int DAYS = 8;

  private static final long SEED = Long.getLong("tappet.seed", 1);

  @TempDir Path folder;

  @Test
  void starterIsProvedByLemmasOneTickBefore() {
    Watched starter = Railroads.config("starter");
    List<Lemma> lemmas =
        Induction.sift(
            starter.network(),
            new Meanings(starter.network()),
            ProofMemory.none(),
            List.of(),
            candidates(starter));
    for (Property property : starter.properties()) {
      Outcome outcome =
          agreed(clauses -> violatedAfter(lemmas, property, starter, clauses), property.words());
      assertEquals(Outcome.IMPOSSIBLE, outcome, property.words());
    }
  }

  /** Without lemmas a state that cannot come about may violate what is asked. */
  @Test
  void lemmasAreMissedWhereThereAreNone() {
    Watched starter = Railroads.config("starter");
    List<Outcome> outcomes =
        starter.properties().stream()
            .map(
                property ->
                    agreed(
                        clauses -> violatedAfter(List.of(), property, starter, clauses),
                        property.words()))
            .toList();
    assertTrue(outcomes.contains(Outcome.SATISFIED), outcomes.toString());
  }

  @Test
  void starterKeepsEachPropertyFromTheStartAndEachOneSaysSomething() {
    Watched starter = Railroads.config("starter");
    for (Property property : starter.properties()) {
      assertEquals(
          Outcome.IMPOSSIBLE,
          agreed(
              clauses -> comesAbout(property.holds(), false, TICKS, starter.network(), clauses),
              property.words()));
      assertEquals(
          Outcome.SATISFIED,
          agreed(
              clauses -> comesAbout(property.premise(), true, TICKS, starter.network(), clauses),
              "premise of " + property.words()));
    }
  }

  @Test
  void someOfTheDemo() {
    Watched demo = Railroads.config("demo");
    List<Lemma> candidates = candidates(demo);
    List<Property> properties = demo.properties();
    for (int index = 0; index < properties.size(); index += DEMO_STRIDE) {
      Property property = properties.get(index);
      assertEquals(
          Outcome.IMPOSSIBLE,
          agreed(
              clauses -> comesAbout(property.holds(), false, DEMO_TICKS, demo.network(), clauses),
              property.words()));
      agreed(clauses -> violatedAfter(candidates, property, demo, clauses), property.words());
      agreed(clauses -> violatedAfter(List.of(), property, demo, clauses), property.words());
    }
  }

  @Test
  void mistakesAreFoundByEverySolver() {
    Watched block = Railroads.block();
    List<Variable> properties = block.properties().stream().map(Property::holds).toList();
    List<Outcome> outcomes = new ArrayList<>();
    for (Mistake mistake : Mistake.in(block.network(), properties, MISTAKES, SEED)) {
      for (Variable holds : properties) {
        outcomes.add(
            agreed(
                clauses -> comesAbout(holds, false, TICKS, mistake.network(), clauses),
                "seed " + SEED + ", " + mistake.words() + ", " + holds));
      }
    }
    long found = outcomes.stream().filter(Outcome.SATISFIED::equals).count();
    String counted = found + " of " + outcomes.size() + " violated, seed " + SEED;
    System.out.println("OutsideSolversTest: mistakes: " + counted);
    assertTrue(found > 0 && found < outcomes.size(), counted);
  }

  @Test
  void randomFormulas() {
    int satisfied = 0;
    for (long seed = SEED; seed < SEED + FORMULAS; seed++) {
      long drawn = seed;
      Outcome outcome = agreed(clauses -> draw(new Random(drawn), clauses), "seed " + seed);
      satisfied += outcome == Outcome.SATISFIED ? 1 : 0;
    }
    String found = satisfied + " of " + FORMULAS + " can be satisfied, seeds from " + SEED;
    System.out.println("OutsideSolversTest: formulas: " + found);
    assertTrue(satisfied > FORMULAS / 5 && satisfied < FORMULAS * 4 / 5, found);
  }

  private static List<Lemma> candidates(Watched watched) {
    SeenStates seen = new SeenStates(watched, DAYS);
    return Candidates.of(watched, seen, new Dependencies(watched.network()), any -> true);
  }

  /** The question of a proof: lemmas hold in a tick, and the property does not in the next. */
  private static void violatedAfter(
      List<Lemma> lemmas, Property property, Watched watched, Clauses clauses) {
    Unrolling unrolling = new Unrolling(watched.network(), clauses, Unrolling.From.ANYWHERE);
    clauses.demand(-unrolling.literal(property.holds(), 1));
    for (Lemma lemma : lemmas) {
      if (unrolling.isWritten(lemma.one(), 0) && unrolling.isWritten(lemma.other(), 0)) {
        clauses.demand(lemma.literals(unrolling, 0));
      }
    }
    name(unrolling, watched.network(), 1, clauses);
  }

  /** The question of a story: from the start, something is so in one of the first ticks. */
  private static void comesAbout(
      Variable variable, boolean value, int last, Network network, Clauses clauses) {
    Unrolling unrolling = new Unrolling(network, clauses, Unrolling.From.START);
    clauses.demand(
        IntStream.rangeClosed(0, last)
            .map(tick -> unrolling.literal(variable, tick))
            .map(literal -> value ? literal : -literal)
            .toArray());
    name(unrolling, network, last, clauses);
  }

  private static void name(Unrolling unrolling, Network network, int last, Clauses clauses) {
    if (clauses instanceof Dimacs dimacs) {
      dimacs.explainAll(network, unrolling, last + 1);
    }
  }

  /**
   * Three literals a clause and about 4.3 clauses a variable, where half of all random formulas can
   * be satisfied (common practice, no source); some clauses are longer, shorter or say nothing.
   */
  private static void draw(Random random, Clauses clauses) {
    int variables = 10 + random.nextInt(60);
    for (int variable = 0; variable < variables; variable++) {
      clauses.fresh();
    }
    for (int clause = 0; clause < variables * 43 / 10; clause++) {
      int length = random.nextInt(20) == 0 ? 2 + random.nextInt(6) : 3;
      clauses.demand(
          random
              .ints(length, 1, variables + 1)
              .map(variable -> random.nextBoolean() ? variable : -variable)
              .toArray());
    }
  }

  /** The verdict of our solver, which every outside one must give too. */
  private Outcome agreed(Consumer<Clauses> question, String place) {
    Solver solver = new Solver();
    question.accept(solver);
    Outcome ours = solver.search();
    Dimacs dimacs = new Dimacs();
    question.accept(dimacs);
    Path formula = write(dimacs);
    for (OutsideSolver outside : OutsideSolver.values()) {
      assertEquals(ours, outside.judge(formula), outside + " differs: " + place);
    }
    return ours;
  }

  private Path write(Dimacs dimacs) {
    Path formula = folder.resolve("question.cnf");
    try (Writer out = Files.newBufferedWriter(formula)) {
      dimacs.write(out);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return formula;
  }
}
