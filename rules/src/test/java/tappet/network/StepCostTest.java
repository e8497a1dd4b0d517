package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.params.provider.Arguments.arguments;
import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Told.words;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The cost of a step follows what changes in it, counted in gates looked at and not in time. */
class StepCostTest {

  /** Seeds whose networks settle under single inputs; {@link #seedsAreWorthCounting} checks it. */
  private static final long[] SEEDS =
      LongStream.rangeClosed(1, 200).filter(StepCostTest::settles).limit(25).toArray();

  static Stream<Arguments> seedsAndCopies() {
    return LongStream.of(SEEDS)
        .boxed()
        .flatMap(seed -> Stream.of(10, 100).map(copies -> arguments(seed, copies)));
  }

  @ParameterizedTest(name = "seed {0}, {1} copies")
  @MethodSource("seedsAndCopies")
  void stepCostsTheSameHoweverManyCopiesStandIdle(long seed, int copies) {
    List<Long> alone = costOfEachInput(seed, 1, 0);
    assertEquals(alone, costOfEachInput(seed, copies, 0), "first copy");
    assertEquals(alone, costOfEachInput(seed, copies, copies / 2), "middle copy");
    assertEquals(alone, costOfEachInput(seed, copies, copies - 1), "last copy");
  }

  @Test
  void seedsAreWorthCounting() {
    assertEquals(25, SEEDS.length);
    long gates = LongStream.of(SEEDS).flatMap(seed -> costs(seed).mapToLong(Long::longValue)).sum();
    assertTrue(gates > 250, "gates looked at: " + gates);
  }

  @Test
  void idleStepLooksAtNoGate() {
    Stepper stepper = new Stepper(RandomNetwork.of(SEEDS[0]));
    long before = stepper.gatesLookedAt();
    Told.by(stepper);
    assertEquals(before, stepper.gatesLookedAt());
  }

  @Test
  void onlyTheLastOfAThousandInputsHasTheirGateLookedAt() {
    Stepper stepper = allOfAThousand();
    List<Variable> inputs = inputsOf(stepper);
    for (Variable input : inputs.subList(0, 999)) {
      assertEquals(0, cost(stepper, input, true));
    }
    assertEquals(1, cost(stepper, inputs.get(999), true));
    assertTrue(stepper.value(stepper.network().named("all")));
  }

  @Test
  void gateIsLookedAtOnceHoweverManyOfItsInputsChangeTogether() {
    Stepper stepper = allOfAThousand();
    long before = stepper.gatesLookedAt();
    inputsOf(stepper).forEach(input -> stepper.set(input, true));
    Told.by(stepper);
    assertEquals(1, stepper.gatesLookedAt() - before);
    assertTrue(stepper.value(stepper.network().named("all")));
  }

  @Test
  void changeThatAGateSwallowsGoesNoFurther() {
    NetworkBuilder builder = new NetworkBuilder();
    Variable open = builder.input("open", words("open"));
    Variable shut = builder.input("shut", words("shut"));
    Variable link = builder.equation("link 0", words("link 0"), all(is(open), is(shut)));
    for (int number = 1; number <= 50; number++) {
      link = builder.equation("link " + number, words("link " + number), is(link));
    }
    Stepper stepper = new Stepper(builder.build());

    assertEquals(0, cost(stepper, open, true));
    assertEquals(51, cost(stepper, shut, true));
  }

  private static Stepper allOfAThousand() {
    NetworkBuilder builder = new NetworkBuilder();
    List<Expression> parts = new ArrayList<>();
    for (int number = 0; number < 1_000; number++) {
      String name = "input " + number;
      parts.add(is(builder.input(name, words(name))));
    }
    builder.equation("all", words("all"), all(parts));
    return new Stepper(builder.build());
  }

  private static List<Variable> inputsOf(Stepper stepper) {
    return stepper.network().variables().stream()
        .filter(variable -> variable.kind() == Variable.Kind.INPUT)
        .toList();
  }

  private static boolean settles(long seed) {
    try {
      return costs(seed).count() > 0;
    } catch (UnsettledException swings) {
      return false;
    }
  }

  private static Stream<Long> costs(long seed) {
    return costOfEachInput(seed, 1, 0).stream();
  }

  /** Each input of one copy on, then each off again: gates looked at, step by step. */
  private static List<Long> costOfEachInput(long seed, int copies, int copy) {
    NetworkBuilder builder = new NetworkBuilder();
    for (int number = 0; number < copies; number++) {
      RandomNetwork.addTo(builder, seed, "copy " + number + " ");
    }
    Stepper stepper = new Stepper(builder.build());
    List<Variable> inputs =
        inputsOf(stepper).stream()
            .filter(variable -> variable.name().startsWith("copy " + copy + " "))
            .toList();
    return Stream.of(true, false)
        .flatMap(value -> inputs.stream().map(input -> cost(stepper, input, value)))
        .toList();
  }

  private static long cost(Stepper stepper, Variable input, boolean value) {
    long before = stepper.gatesLookedAt();
    stepper.set(input, value);
    Told.by(stepper);
    return stepper.gatesLookedAt() - before;
  }
}
