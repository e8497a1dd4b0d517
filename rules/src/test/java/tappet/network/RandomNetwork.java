package tappet.network;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.function.BiFunction;

/**
 * Draws networks that no one would write: constants, double negations, the same part several times
 * and beside its opposite, equations that are a single variable, latches that read each other, and
 * everything defined in another order than declared.
 */
public final class RandomNetwork {

  private static final int INPUTS_MAX = 6;
  private static final int PULSES_MAX = 3;
  private static final int LATCHES_MAX = 6;
  private static final int EQUATIONS_MAX = 14;
  private static final int DEPTH_MAX = 3;

  private final Random random;
  private final NetworkBuilder builder;
  private final String prefix;
  private final List<Variable> readable = new ArrayList<>();

  private RandomNetwork(Random random, NetworkBuilder builder, String prefix) {
    this.random = random;
    this.builder = builder;
    this.prefix = prefix;
  }

  /** A network of its own. */
  static Network of(long seed) {
    NetworkBuilder builder = new NetworkBuilder();
    addTo(builder, seed, "");
    return builder.build();
  }

  /** One more random part of a network; the same seed gives the same part under another prefix. */
  public static void addTo(NetworkBuilder builder, long seed, String prefix) {
    new RandomNetwork(new Random(seed), builder, prefix).draw();
  }

  private void draw() {
    List<Variable> equations = declare(upTo(EQUATIONS_MAX), "equation", builder::equation);
    List<Variable> latches = declare(upTo(LATCHES_MAX), "latch", this::latch);
    readable.addAll(latches);
    readable.addAll(declare(1 + upTo(INPUTS_MAX - 1), "input", builder::input));
    readable.addAll(declare(upTo(PULSES_MAX), "pulse", builder::pulse));
    Collections.shuffle(equations, random);
    equations.forEach(this::defineEquation);
    Collections.shuffle(latches, random);
    latches.forEach(this::defineLatch);
  }

  private List<Variable> declare(
      int count, String role, BiFunction<String, Words, Variable> declaration) {
    List<Variable> declared = new ArrayList<>();
    for (int number = 0; number < count; number++) {
      String name = prefix + role + " " + number;
      declared.add(declaration.apply(name, Told.words(name)));
    }
    return declared;
  }

  private Variable latch(String name, Words words) {
    return random.nextBoolean()
        ? builder.latch(name, words)
        : builder.latchInitiallyTrue(name, words);
  }

  private void defineEquation(Variable equation) {
    builder.define(equation, expression(DEPTH_MAX));
    readable.add(equation);
  }

  /** Reset by anything, or by the opposite of its set so that it moves more often. */
  private void defineLatch(Variable latch) {
    Expression set = expression(upTo(DEPTH_MAX));
    Expression reset = random.nextBoolean() ? new Expression.Not(set) : expression(upTo(DEPTH_MAX));
    builder.define(latch, set, reset);
  }

  private Expression expression(int depth) {
    if (depth == 0) {
      return variable();
    }
    return switch (random.nextInt(10)) {
      case 0, 1 -> variable();
      case 2, 3 -> new Expression.Not(expression(depth - 1));
      case 4 -> new Expression.Not(new Expression.Not(expression(depth - 1)));
      case 5, 6, 7 -> new Expression.All(parts(depth));
      default -> new Expression.Any(parts(depth));
    };
  }

  private Expression variable() {
    return Expression.is(readable.get(random.nextInt(readable.size())));
  }

  private List<Expression> parts(int depth) {
    List<Expression> parts = new ArrayList<>();
    int count = random.nextInt(10) == 0 ? 0 : 1 + upTo(3);
    for (int part = 0; part < count; part++) {
      parts.add(expression(depth - 1));
    }
    if (!parts.isEmpty() && random.nextInt(4) == 0) {
      parts.add(parts.get(0));
    }
    if (!parts.isEmpty() && random.nextInt(8) == 0) {
      parts.add(new Expression.Not(parts.get(0)));
    }
    return parts;
  }

  private int upTo(int most) {
    return random.nextInt(most + 1);
  }
}
