package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.params.provider.Arguments.arguments;
import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;
import static tappet.network.Told.words;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What becomes a network and what is refused. The source is the package's own description. */
class NetworkBuilderTest {

  private final NetworkBuilder builder = new NetworkBuilder();

  /** What someone does with a builder. */
  private interface Mistake extends Consumer<NetworkBuilder> {}

  static Stream<Arguments> mistakesOfDeclaration() {
    return Stream.of(
        mistake("two variables are named 'a'", b -> twice(() -> b.input("a", words("a")))),
        mistake(
            "two variables are named 'a'",
            b -> {
              b.input("a", words("a"));
              b.latch("a", words("a"));
            }),
        mistake(
            "'a' was declared and never defined",
            b -> {
              b.equation("a", words("a"));
              b.build();
            }),
        mistake(
            "'a' was declared and never defined",
            b -> {
              b.latch("a", words("a"));
              b.build();
            }),
        mistake(
            "'a' is defined twice", b -> b.define(b.equation("a", words("a"), never()), never())),
        mistake(
            "'a' is defined twice",
            b -> {
              Variable latch = b.latch("a", words("a"));
              twice(() -> b.define(latch, never(), never()));
            }),
        mistake(
            "'a' asks for two times",
            b -> {
              Variable running = b.input("a", words("a"));
              b.timer("first", words("first"), running, Duration.ofSeconds(1));
              b.timer("second", words("second"), running, Duration.ofSeconds(2));
            }));
  }

  static Stream<Arguments> mistakesOfUse() {
    return Stream.of(
        mistake(
            "'a' is no EQUATION of this network", b -> b.define(b.input("a", words("a")), never())),
        mistake(
            "'a' is no EQUATION of this network", b -> b.define(b.latch("a", words("a")), never())),
        mistake(
            "'a' is no LATCH of this network",
            b -> b.define(b.equation("a", words("a")), never(), never())),
        mistake(
            "'far' is no EQUATION of this network",
            b -> b.define(new NetworkBuilder().equation("far", words("far")), never())),
        mistake(
            "'far' is no variable of this network",
            b -> b.equation("a", words("a"), all(not(is(far())), never()))),
        mistake(
            "'far' is no variable of this network",
            b -> b.define(b.latch("a", words("a")), is(far()), never())),
        mistake(
            "'far' is no variable of this network",
            b -> b.define(b.latch("a", words("a")), never(), is(far()))),
        mistake(
            "'far' is no variable of this network",
            b -> b.timer("a", words("a"), far(), Duration.ofSeconds(1))),
        mistake(
            "time PT0S for 'a', expected > 0",
            b -> b.timer("a", words("a"), b.input("in", words("in")), Duration.ZERO)),
        mistake(
            "time PT-1S for 'a', expected > 0",
            b -> b.timer("a", words("a"), b.input("in", words("in")), Duration.ofSeconds(-1))));
  }

  private static Arguments mistake(String message, Mistake mistake) {
    return arguments(message, mistake);
  }

  private static void twice(Runnable action) {
    action.run();
    action.run();
  }

  /** A variable of another network that has its place but not its identity. */
  private static Variable far() {
    return new NetworkBuilder().input("far", words("far"));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("mistakesOfDeclaration")
  void mistakeOfDeclarationIsRefusedByName(String message, Mistake mistake) {
    Exception thrown = assertThrows(IllegalStateException.class, () -> mistake.accept(builder));
    assertEquals(message, thrown.getMessage());
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("mistakesOfUse")
  void mistakeOfUseIsRefusedByName(String message, Mistake mistake) {
    Exception thrown = assertThrows(IllegalArgumentException.class, () -> mistake.accept(builder));
    assertEquals(message, thrown.getMessage());
  }

  @Test
  void circleOfEquationsIsNamedInOrder() {
    Variable input = builder.input("input", words("input"));
    Variable outside = builder.equation("outside", words("outside"));
    Variable b = builder.equation("b", words("b"));
    Variable c = builder.equation("c", words("c"));
    Variable a = builder.equation("a", words("a"));
    builder.define(outside, all(is(input), is(b)));
    builder.define(a, is(b));
    builder.define(b, not(all(is(input), not(c))));
    builder.define(c, all(is(input), is(a)));

    CircularEquationException thrown =
        assertThrows(CircularEquationException.class, builder::build);
    assertEquals(List.of(b, c, a), thrown.circle());
    assertEquals("b ← c ← a", thrown.getMessage());
  }

  @Test
  void equationThatReadsItselfIsACircleOfOne() {
    Variable self = builder.equation("self", words("self"));
    builder.define(self, not(self));

    CircularEquationException thrown =
        assertThrows(CircularEquationException.class, builder::build);
    assertEquals(List.of(self), thrown.circle());
  }

  @Test
  void circleThroughALatchIsNone() {
    Variable latch = builder.latch("latch", words("latch"));
    Variable equation = builder.equation("equation", words("equation"), is(latch));
    builder.define(latch, is(equation), never());

    assertEquals(List.of(equation), List.copyOf(builder.build().equations().keySet()));
  }

  @Test
  void diamondIsNoCircle() {
    Variable top = builder.equation("top", words("top"));
    Variable left = builder.equation("left", words("left"));
    Variable right = builder.equation("right", words("right"));
    Variable bottom = builder.equation("bottom", words("bottom"), never());
    builder.define(top, all(is(left), is(right)));
    builder.define(left, is(bottom));
    builder.define(right, is(bottom));

    assertEquals(
        List.of(bottom, left, right, top), List.copyOf(builder.build().equations().keySet()));
  }

  @Test
  void equationsComeAfterAllTheyDependOn() {
    for (long seed = 1; seed <= 200; seed++) {
      List<Variable> before = new ArrayList<>();
      RandomNetwork.of(seed)
          .equations()
          .forEach(
              (equation, meaning) -> {
                assertTrue(equationsIn(meaning).allMatch(before::contains), equation::name);
                before.add(equation);
              });
    }
  }

  private static Stream<Variable> equationsIn(Expression meaning) {
    return meaning.variables().stream()
        .filter(variable -> variable.kind() == Variable.Kind.EQUATION);
  }

  @ParameterizedTest(name = "{0} equations")
  @ValueSource(ints = {10, 1_000, 10_000})
  void longChainOfEquationsIsBuiltAndFollowed(int length) {
    Variable input = builder.input("input", words("input"));
    List<Variable> chain = new ArrayList<>();
    for (int number = 0; number < length; number++) {
      chain.add(builder.equation("link " + number, words("link " + number)));
    }
    for (int number = 0; number < length; number++) {
      builder.define(chain.get(number), is(number + 1 < length ? chain.get(number + 1) : input));
    }
    Stepper stepper = new Stepper(builder.build());

    stepper.set(input, true);
    assertEquals(length + 1, Told.by(stepper).size());
    assertTrue(stepper.value(chain.get(0)));
  }

  @Test
  void variablesOfAnExpressionAreToldOnceInReadingOrder() {
    Variable a = builder.input("a", words("a"));
    Variable b = builder.input("b", words("b"));
    Variable c = builder.input("c", words("c"));

    Expression expression = all(is(c), not(all(is(a), Expression.any(is(c), not(b)))), is(a));
    assertEquals(List.of(c, a, b), List.copyOf(expression.variables()));
  }

  @Test
  void latchesStandInTheOrderOfTheirDeclaration() {
    Variable first = builder.latch("first", words("first"));
    Variable second = builder.latchInitiallyTrue("second", words("second"));
    builder.define(second, never(), never());
    builder.define(first, never(), never());

    Network network = builder.build();
    assertEquals(List.of(first, second), List.copyOf(network.latches().keySet()));
    assertEquals(
        List.of(false, true), network.latches().values().stream().map(Latch::initially).toList());
  }

  @Test
  void finishedNetworkIsNotTouchedByWhatIsBuiltLater() {
    Variable input = builder.input("input", words("input"));
    Network finished = builder.build();
    builder.timer("later", words("later"), input, Duration.ofSeconds(1));
    builder.equation("last", words("last"), never());

    assertEquals(List.of(input), finished.variables());
    assertEquals(Optional.empty(), finished.find("last"));
    assertTrue(finished.latches().isEmpty());
    assertTrue(finished.equations().isEmpty());
    assertTrue(finished.timers().isEmpty());
  }

  @Test
  void variableIsFoundByName() {
    Variable input = builder.input("input", words("input"));
    Network network = builder.build();

    assertSame(input, network.named("input"));
    assertEquals(Optional.of(input), network.find("input"));
    Exception thrown = assertThrows(NoSuchElementException.class, () -> network.named("inptu"));
    assertEquals("no variable 'inptu'", thrown.getMessage());
  }
}
