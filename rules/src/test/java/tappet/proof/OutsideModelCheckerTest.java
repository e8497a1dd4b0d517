package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Aiger;

/**
 * A model checker that we did not write reads the AIGER files and finds of them what we find. It
 * knows neither our lemmas nor our unrolling. To try other seeds: {@code mvn -pl rules -am test
 * -Dtest='OutsideModelCheckerTest' -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class OutsideModelCheckerTest {

  private static final int MISTAKES = 12;

  /** A train is granted a route, runs and leaves it within so many. */
  private static final int TICKS = 12;

  private static final long SEED = Long.getLong("tappet.seed", 1);

  private static final Pattern VIOLATED = Pattern.compile("was asserted in frame (\\d+)");
  private static final Pattern KEPT = Pattern.compile("No output asserted in (\\d+) frames");

  /** What it says of a mistake after which the property remembers nothing. */
  private static final String NO_LATCHES = "Does not work for combinational networks";

  @TempDir Path folder;

  @Test
  void eachPropertyOfTheStarterIsProvedOutside() {
    Watched starter = Railroads.config("starter");
    for (Property property : starter.properties()) {
      String told = check(starter.network(), property.holds(), "pdr");
      assertTrue(told.contains("Property proved"), property.words() + ":\n" + told);
    }
  }

  /** The first tick of a story is no matter of taste: both must tell the same. */
  @Test
  void mistakesComeToLightInTheSameTick() {
    Watched block = Railroads.block();
    List<Variable> properties = block.properties().stream().map(Property::holds).toList();
    int violated = 0;
    for (Mistake mistake : Mistake.in(block.network(), properties, MISTAKES, SEED)) {
      BoundedSearch ours = new BoundedSearch(mistake.network());
      for (Variable holds : properties) {
        Integer first = ours.first(false, List.of(holds), TICKS).get(holds);
        String place = "seed " + SEED + ", " + mistake.words() + ", " + holds;
        assertEquals(
            first == null ? OptionalInt.empty() : OptionalInt.of(first),
            firstViolated(mistake.network(), holds),
            place);
        violated += first == null ? 0 : 1;
      }
    }
    System.out.println("OutsideModelCheckerTest: " + violated + " violated, seed " + SEED);
    assertTrue(violated > 0, "no mistake of seed " + SEED + " is dangerous");
  }

  private OptionalInt firstViolated(Network network, Variable holds) {
    String told = check(network, holds, "bmc3 -F " + (TICKS + 1));
    if (told.contains(NO_LATCHES)) {
      return violatedInAnyTick(network, holds) ? OptionalInt.of(0) : OptionalInt.empty();
    }
    Matcher violated = VIOLATED.matcher(told);
    if (violated.find()) {
      return OptionalInt.of(Integer.parseInt(violated.group(1)));
    }
    assertTrue(KEPT.matcher(told).find(), told);
    return OptionalInt.empty();
  }

  private boolean violatedInAnyTick(Network network, Variable holds) {
    String told = check(network, holds, "iprove");
    boolean never = told.contains("UNSATISFIABLE");
    assertTrue(never || told.contains("SATISFIABLE"), told);
    return !never;
  }

  /** What is said of a variable that must always be true; constraints are made part of it first. */
  private String check(Network network, Variable holds, String question) {
    Path file = folder.resolve("question.aig");
    try (OutputStream out = Files.newOutputStream(file)) {
      new Aiger(network, List.of(holds)).writeBinary(out);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    String commands = "read_aiger " + file + "; fold; " + question;
    return OutsideTool.run("berkeley-abc", List.of("berkeley-abc", "-c", commands));
  }
}
