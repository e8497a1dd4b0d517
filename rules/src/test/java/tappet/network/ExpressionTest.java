package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.params.provider.Arguments.arguments;
import static tappet.network.Expression.all;
import static tappet.network.Expression.always;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.network.Expression.All;
import tappet.network.Expression.Any;
import tappet.network.Expression.Not;

/**
 * Small universes, wholly: what each expression is under every assignment of its inputs. A meaning
 * takes the assignment as a number, input i being bit i.
 */
class ExpressionTest {

  /** An expression of some inputs. */
  private interface Form extends Function<List<Variable>, Expression> {}

  static Stream<Arguments> expressionsAndMeanings() {
    return Stream.of(
        row("always", 2, x -> always(), bits -> true),
        row("never", 2, x -> never(), bits -> false),
        row("all of none", 1, x -> new All(List.of()), bits -> true),
        row("any of none", 1, x -> new Any(List.of()), bits -> false),
        row("not all of none", 1, x -> not(always()), bits -> false),
        row("not any of none", 1, x -> not(never()), bits -> true),
        row("a single variable", 1, x -> is(x.get(0)), bits -> bits == 1),
        row("not a variable", 1, x -> not(x.get(0)), bits -> bits == 0),
        row("not not", 1, x -> new Not(new Not(is(x.get(0)))), bits -> bits == 1),
        row("not not not", 1, x -> new Not(new Not(not(x.get(0)))), bits -> bits == 0),
        row("not of not, shortened", 1, x -> not(not(x.get(0))), bits -> bits == 1),
        row("all of one", 1, x -> new All(List.of(is(x.get(0)))), bits -> bits == 1),
        row("any of one", 1, x -> new Any(List.of(is(x.get(0)))), bits -> bits == 1),
        row("all of one, shortened", 1, x -> all(not(x.get(0))), bits -> bits == 0),
        row("any of one, shortened", 1, x -> any(not(x.get(0))), bits -> bits == 0),
        row(
            "all of the same thrice",
            2,
            x -> all(is(x.get(0)), is(x.get(0)), is(x.get(0))),
            bits -> (bits & 1) == 1),
        row(
            "all of the same twice and another",
            2,
            x -> all(is(x.get(0)), is(x.get(1)), is(x.get(0))),
            bits -> bits == 3),
        row(
            "any of the same thrice",
            2,
            x -> any(is(x.get(0)), is(x.get(0)), is(x.get(0))),
            bits -> (bits & 1) == 1),
        row(
            "all of the opposite twice",
            1,
            x -> all(not(x.get(0)), not(x.get(0))),
            bits -> bits == 0),
        row("a variable and its opposite", 1, x -> all(is(x.get(0)), not(x.get(0))), bits -> false),
        row("a variable or its opposite", 1, x -> any(is(x.get(0)), not(x.get(0))), bits -> true),
        row("true and a variable", 1, x -> all(always(), is(x.get(0))), bits -> bits == 1),
        row("false or a variable", 1, x -> any(never(), is(x.get(0))), bits -> bits == 1),
        row("false and a variable", 1, x -> all(never(), is(x.get(0))), bits -> false),
        row("true or a variable", 1, x -> any(always(), is(x.get(0))), bits -> true),
        row(
            "exactly one of two",
            2,
            x -> any(all(is(x.get(0)), not(x.get(1))), all(not(x.get(0)), is(x.get(1)))),
            bits -> Integer.bitCount(bits) == 1),
        row(
            "two of three",
            3,
            x -> any(both(x, 0, 1), both(x, 1, 2), both(x, 0, 2)),
            bits -> Integer.bitCount(bits) >= 2),
        row(
            "not all, not any",
            4,
            x -> all(not(both(x, 0, 1)), not(any(is(x.get(2)), is(x.get(3))))),
            bits -> (bits & 3) != 3 && (bits & 12) == 0),
        row("odd number of five", 5, ExpressionTest::odd, bits -> Integer.bitCount(bits) % 2 == 1),
        row("all of ten", 10, x -> all(each(x)), bits -> bits == 1023),
        row("any of ten", 10, x -> any(each(x)), bits -> bits != 0),
        row("none of ten", 10, x -> not(any(each(x))), bits -> bits == 0),
        row(
            "even ones on, odd ones off",
            10,
            x -> all(IntStream.range(0, 10).mapToObj(i -> alternately(x, i)).toList()),
            bits -> bits == 0b0101010101),
        row("odd number of ten", 10, ExpressionTest::odd, bits -> Integer.bitCount(bits) % 2 == 1));
  }

  private static Arguments row(String name, int inputs, Form form, IntPredicate meaning) {
    return arguments(name, inputs, form, meaning);
  }

  private static Expression both(List<Variable> inputs, int one, int other) {
    return all(is(inputs.get(one)), is(inputs.get(other)));
  }

  private static List<Expression> each(List<Variable> inputs) {
    return inputs.stream().map(Expression::is).toList();
  }

  private static Expression alternately(List<Variable> inputs, int index) {
    return index % 2 == 0 ? is(inputs.get(index)) : not(inputs.get(index));
  }

  private static Expression odd(List<Variable> inputs) {
    return each(inputs).stream()
        .reduce(never(), (odd, next) -> any(all(odd, not(next)), all(not(odd), next)));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("expressionsAndMeanings")
  void expressionMeansWhatItSaysUnderEveryAssignment(
      String name, int inputCount, Form form, IntPredicate meaning) {
    Universe universe = new Universe(inputCount, form);
    for (int bits = 0; bits < 1 << inputCount; bits++) {
      assertEquals(meaning.test(bits), universe.valueAt(bits), name + " at " + bits);
      // One input at a time as well: neighbours of a Gray code differ in one bit.
      int gray = bits ^ (bits >> 1);
      assertEquals(meaning.test(gray), universe.valueAt(gray), name + " at " + gray);
    }
  }

  /** The stepper counts, so the way to an assignment might matter: it must not. */
  @ParameterizedTest(name = "{0}")
  @MethodSource("expressionsAndMeanings")
  void expressionMeansTheSameWhateverWasBefore(
      String name, int inputCount, Form form, IntPredicate meaning) {
    Universe universe = new Universe(inputCount, form);
    int assignments = 1 << Math.min(inputCount, 6);
    for (int from = 0; from < assignments; from++) {
      for (int to = 0; to < assignments; to++) {
        assertEquals(meaning.test(from), universe.valueAt(from), name + " at " + from);
        assertEquals(meaning.test(to), universe.valueAt(to), name + ", " + from + " to " + to);
      }
    }
  }

  /** The expression as an equation, and as the set of a latch that is reset by its opposite. */
  private static final class Universe {

    private final List<Variable> inputs = new ArrayList<>();
    private final Variable equation;
    private final Variable latch;
    private final Stepper stepper;

    Universe(int inputCount, Form form) {
      NetworkBuilder builder = new NetworkBuilder();
      equation = builder.equation("equation", Words.through());
      latch = builder.latch("latch", Words.through());
      for (int index = 0; index < inputCount; index++) {
        inputs.add(builder.input("input " + index, Words.through()));
      }
      Expression expression = form.apply(inputs);
      builder.define(equation, expression);
      builder.define(latch, expression, not(expression));
      stepper = new Stepper(builder.build());
    }

    boolean valueAt(int bits) {
      for (int index = 0; index < inputs.size(); index++) {
        stepper.set(inputs.get(index), (bits >> index & 1) == 1);
      }
      stepper.step((variable, value) -> {});
      assertEquals(stepper.value(equation), stepper.value(latch), "latch at " + bits);
      return stepper.value(equation);
    }
  }
}
