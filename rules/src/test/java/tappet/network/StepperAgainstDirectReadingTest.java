package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.Iterator;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The stepper and the slow direct reading must tell the same story of every network, tick by tick:
 * what is proven of equations must be what runs (interlocking sheet, H.7). To try other seeds:
 * {@code mvn -pl rules -am test -Dtest='StepperAgainstDirectReadingTest'
 * -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class StepperAgainstDirectReadingTest {

  private static final int NETWORKS = 400;
  private static final int STEPS = 100;

  /** 1 unless the command line says otherwise: the build is the same each time. */
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);

  static LongStream seeds() {
    return LongStream.range(FIRST_SEED, FIRST_SEED + NETWORKS);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void randomNetworkTellsTheSameStoryAsItsDirectReading(long seed) {
    Comparison comparison = new Comparison(seed);
    int steps = comparison.run();
    assertTrue(steps == STEPS || comparison.swung, "seed " + seed + " ended at " + steps);
  }

  /** Guards the test above: it would say little if networks swung at once or never moved. */
  @Test
  void theNetworksComparedMoveAndSettleAndSomeSwing() {
    List<Comparison> comparisons = seeds().mapToObj(Comparison::new).toList();
    int steps = comparisons.stream().mapToInt(Comparison::run).sum();
    int flips = comparisons.stream().mapToInt(comparison -> comparison.latchFlips).sum();
    int longest = comparisons.stream().mapToInt(comparison -> comparison.ticksMost).max().orElse(0);
    int changes = comparisons.stream().mapToInt(comparison -> comparison.changes).sum();
    long swung = comparisons.stream().filter(comparison -> comparison.swung).count();
    String found =
        "%d steps, %d changes, %d of latches, up to %d ticks, %d of %d swung, seeds from %d"
            .formatted(steps, changes, flips, longest, swung, NETWORKS, FIRST_SEED);
    System.out.println("StepperAgainstDirectReadingTest: " + found);
    assertTrue(steps >= 20_000, found);
    assertTrue(changes >= 2 * steps, found);
    assertTrue(flips >= steps / 10, found);
    assertTrue(longest >= 5, found);
    assertTrue(swung >= NETWORKS / 20, found);
  }

  @Test
  void sameInputsGiveTheSameLogInTheSameOrder() {
    seeds().forEach(seed -> assertEquals(logOf(seed), logOf(seed), "seed " + seed));
  }

  private static List<String> logOf(long seed) {
    Comparison comparison = new Comparison(seed);
    comparison.run();
    return comparison.log;
  }

  /** One random network driven by random inputs until it swings or the steps are over. */
  private static final class Comparison {

    private static final Set<Variable.Kind> LEVERS =
        EnumSet.of(Variable.Kind.INPUT, Variable.Kind.PULSE);

    private final String place;
    private final Random random;
    private final Network network;
    private final List<Variable> levers;
    private final DirectReading reading;
    private final List<String> log = new ArrayList<>();
    private int ticksMost;
    private int latchFlips;
    private int changes;
    private boolean swung;

    Comparison(long seed) {
      place = "seed " + seed;
      random = new Random(~seed);
      network = RandomNetwork.of(seed);
      levers =
          network.variables().stream()
              .filter(variable -> LEVERS.contains(variable.kind()))
              .toList();
      reading = new DirectReading(network);
    }

    /** The steps compared. */
    int run() {
      if (reading.swings()) {
        checkSwing(assertThrows(UnsettledException.class, () -> new Stepper(network), place));
        return 0;
      }
      Stepper stepper = new Stepper(network);
      boolean[] told = new boolean[network.variables().size()];
      for (int step = 0; step < STEPS; step++) {
        layOn(stepper);
        if (!sameStep(stepper, told, place + ", step " + step)) {
          return step;
        }
      }
      return STEPS;
    }

    private void layOn(Stepper stepper) {
      int count = random.nextInt(4);
      for (int index = 0; index < count; index++) {
        layOn(stepper, levers.get(random.nextInt(levers.size())));
      }
    }

    private void layOn(Stepper stepper, Variable variable) {
      if (variable.kind() == Variable.Kind.INPUT) {
        boolean value = random.nextBoolean();
        stepper.set(variable, value);
        reading.set(variable, value);
      } else {
        stepper.pulse(variable);
        reading.pulse(variable);
      }
    }

    /** False once the network swings. */
    private boolean sameStep(Stepper stepper, boolean[] told, String where) {
      List<List<String>> expected = reading.step();
      if (reading.swings()) {
        checkSwing(assertThrows(UnsettledException.class, () -> Told.by(stepper), where));
        return false;
      }
      List<String> heard = listen(stepper, told, where);
      assertEquals(expected, cutIntoTicks(heard, expected), where);
      for (Variable variable : network.variables()) {
        assertEquals(reading.value(variable), stepper.value(variable), where + ", " + variable);
        assertEquals(told[variable.index()], stepper.value(variable), where + ", " + variable);
      }
      ticksMost = Math.max(ticksMost, expected.size());
      changes += heard.size();
      log.addAll(heard);
      return true;
    }

    private List<String> listen(Stepper stepper, boolean[] told, String where) {
      List<String> heard = new ArrayList<>();
      stepper.step(
          (variable, value) -> {
            assertEquals(!told[variable.index()], value, where + ", told twice: " + variable);
            told[variable.index()] = value;
            heard.add(variable.words().when(value));
            latchFlips += variable.kind() == Variable.Kind.LATCH ? 1 : 0;
          });
      return heard;
    }

    /** What was heard, cut into lists of the sizes expected, and what is left over. */
    private static List<List<String>> cutIntoTicks(
        List<String> heard, List<List<String>> expected) {
      Iterator<String> rest = heard.iterator();
      List<List<String>> cut = new ArrayList<>();
      expected.forEach(tick -> cut.add(take(rest, tick.size())));
      if (rest.hasNext()) {
        cut.add(take(rest, heard.size()));
      }
      return cut;
    }

    private static List<String> take(Iterator<String> rest, int count) {
      List<String> taken = new ArrayList<>();
      while (taken.size() < count && rest.hasNext()) {
        taken.add(rest.next());
      }
      taken.sort(null);
      return taken;
    }

    private void checkSwing(UnsettledException thrown) {
      swung = true;
      Stream<String> names = reading.swinging().stream().map(latch -> "'" + latch + "'");
      assertTrue(names.anyMatch(thrown.getMessage()::contains), place + ": " + thrown.getMessage());
    }
  }
}
