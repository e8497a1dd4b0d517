package tappet.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Timer;
import tappet.network.Variable;
import tappet.proof.sat.Aiger;

/**
 * An AIGER file means what the network means: no value changes its polarity from one module to the
 * next (interlocking sheet, H.21). To try other seeds: {@code mvn -pl rules -am test
 * -Dtest='AigerTest' -Dsurefire.failIfNoSpecifiedTests=false -Dtappet.seed=N}.
 */
class AigerTest {

  private static final int NETWORKS = 100;
  private static final int TICKS = 100;
  private static final int STEPS = 300;
  private static final long FIRST_SEED = Long.getLong("tappet.seed", 1);

  static LongStream seeds() {
    return LongStream.range(FIRST_SEED, FIRST_SEED + NETWORKS);
  }

  @ParameterizedTest(name = "seed {0}")
  @MethodSource("seeds")
  void randomNetworkMeansTheSameInEveryTick(long seed) {
    Network network = TimedNetwork.of(seed);
    new Comparison(network, network.variables(), seed).compareTicks();
  }

  @Test
  void starterMeansTheSameInEveryTick() {
    Watched starter = Railroads.config("starter");
    new Comparison(starter.network(), properties(starter), FIRST_SEED).compareTicks();
  }

  @Test
  void starterRunsAsTheStepperRunsIt() {
    Watched starter = Railroads.config("starter");
    Comparison comparison = new Comparison(starter.network(), properties(starter), FIRST_SEED);
    int moved = comparison.run(starter.happenings());
    assertTrue(moved > STEPS / 10, moved + " steps moved a latch, seed " + FIRST_SEED);
  }

  private static List<Variable> properties(Watched watched) {
    return watched.properties().stream().map(Property::holds).toList();
  }

  /** A network beside what was read of its file. */
  private static final class Comparison {

    private final Network network;
    private final List<Variable> always;
    private final Behind behind;
    private final AigerReading file;
    private final Random random;
    private final String place;

    Comparison(Network network, List<Variable> always, long seed) {
      this.network = network;
      this.always = always;
      behind = new Behind(network, always);
      file = new AigerReading(textOf(new Aiger(network, always)));
      random = new Random(~seed);
      place = "seed " + seed;
      assertEquals(names(behind.of(Variable.Kind.LATCH)), new TreeSet<>(file.names('l')), place);
      for (Latch latch : behind.latches()) {
        assertEquals(latch.initially(), file.isFirst(latch.variable().name()), place + latch);
      }
    }

    /** In any state, whatever happens: the constraints tell what may not. */
    void compareTicks() {
      List<Variable> pulses = behind.of(Variable.Kind.PULSE);
      List<Variable> levels = new ArrayList<>(behind.of(Variable.Kind.INPUT));
      levels.addAll(behind.of(Variable.Kind.LATCH));
      for (int tick = 0; tick < TICKS; tick++) {
        BitSet on = new BitSet();
        levels.forEach(variable -> on.set(variable.index(), random.nextBoolean()));
        for (int count = pulses.isEmpty() ? 0 : random.nextInt(3); count > 0; count--) {
          on.set(pulses.get(random.nextInt(pulses.size())).index());
        }
        compare(new Tick(network, on), tickOf(on), place + ", tick " + tick);
      }
    }

    private void compare(Tick expected, AigerReading.Values read, String where) {
      for (Variable holds : always) {
        assertEquals(!expected.value(holds), read.bad(holds.name()), where + ", " + holds);
      }
      for (Latch latch : behind.latches()) {
        String name = latch.variable().name();
        assertEquals(expected.next(latch), read.next(name), where + ", " + name);
      }
      assertEquals(
          expected.oneThingHappens(), read.constraint("one thing happens at a time"), where);
      assertEquals(
          expected.happensWhenSettled(behind.latches()),
          read.constraint("things happen when the network has settled"),
          where);
      for (Timer timer : behind.timers()) {
        assertEquals(
            expected.isAskedFor(timer),
            read.constraint(timer.runsOut() + " only while it is asked for"),
            where + ", " + timer);
      }
    }

    /**
     * Likely things happen, one a step; the file runs tick by tick until nothing changes any more.
     * Tells in how many steps a latch has changed.
     */
    int run(Happenings happenings) {
      Stepper stepper = new Stepper(network);
      happenings.begin(stepper);
      stepper.step((variable, value) -> {});
      SplittableRandom chance = new SplittableRandom(FIRST_SEED);
      int moved = 0;
      for (int step = 0; step < STEPS; step++) {
        String where = place + ", step " + step;
        Set<String> before = on(Variable.Kind.LATCH, stepper);
        happenings.next(stepper, chance);
        Set<String> after = settle(stepper, before, where);
        stepper.step((variable, value) -> {});
        assertEquals(on(Variable.Kind.LATCH, stepper), after, where);
        compareProperties(stepper, after, where);
        moved += after.equals(before) ? 0 : 1;
      }
      return moved;
    }

    /**
     * The latches that are true in the file when it has settled; the constraints hold meanwhile.
     */
    private Set<String> settle(Stepper laidOn, Set<String> latchesOn, String where) {
      Set<String> inputsOn = on(Variable.Kind.INPUT, laidOn);
      Set<String> first = new TreeSet<>(inputsOn);
      first.addAll(on(Variable.Kind.PULSE, laidOn));
      Set<String> now = latchesOn;
      Set<String> next = next(file.values(first, now), where);
      for (int tick = 0; tick == 0 || !next.equals(now); tick++) {
        now = next;
        next = next(file.values(inputsOn, now), where);
      }
      return now;
    }

    private Set<String> next(AigerReading.Values tick, String where) {
      file.names('c').forEach(name -> assertTrue(tick.constraint(name), where + ", " + name));
      Set<String> next = new TreeSet<>(file.names('l'));
      next.removeIf(latch -> !tick.next(latch));
      return next;
    }

    private void compareProperties(Stepper stepper, Set<String> latchesOn, String where) {
      AigerReading.Values now = file.values(on(Variable.Kind.INPUT, stepper), latchesOn);
      for (Variable holds : always) {
        assertEquals(!stepper.value(holds), now.bad(holds.name()), where + ", " + holds);
      }
    }

    private Set<String> on(Variable.Kind kind, Stepper stepper) {
      return names(behind.of(kind).stream().filter(stepper::value).toList());
    }

    private AigerReading.Values tickOf(BitSet on) {
      List<Variable> variables = on.stream().mapToObj(network.variables()::get).toList();
      return file.values(
          names(variables.stream().filter(any -> any.kind() != Variable.Kind.LATCH).toList()),
          names(variables.stream().filter(any -> any.kind() == Variable.Kind.LATCH).toList()));
    }
  }

  private static Set<String> names(List<Variable> variables) {
    return variables.stream().map(Variable::name).collect(Collectors.toCollection(TreeSet::new));
  }

  private static String textOf(Aiger aiger) {
    StringBuilder text = new StringBuilder();
    try {
      aiger.writeText(text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return text.toString();
  }
}
