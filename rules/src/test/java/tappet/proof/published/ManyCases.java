package tappet.proof.published;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * One tick of a network, worked out for 64 cases at once: the value of a variable is a word with a
 * bit for each case. It shares nothing with the stepper, the unrolling and the exports but the
 * network itself.
 *
 * <p>Everything becomes gates that are true where all of their inputs are: "any" is the opposite of
 * "none". An input names a value by twice its number, and by one more its opposite.
 */
final class ManyCases {

  private final Network network;
  private final List<int[]> gates = new ArrayList<>();

  /** By equation that something depends on: where its value is. */
  private final Map<Variable, Integer> equations = new HashMap<>();

  /** By variable, and then by gate. */
  private final long[] values;

  private final int[][] inputsOfGates;
  private final int[] asked;
  private final int[] set;
  private final int[] reset;
  private final int[] latches;

  /**
   * @param asked the variables that are asked for besides latches
   */
  ManyCases(Network network, List<Variable> asked) {
    this.network = network;
    List<Latch> remembering = List.copyOf(network.latches().values());
    this.asked = asked.stream().mapToInt(this::input).toArray();
    this.latches = remembering.stream().mapToInt(latch -> latch.variable().index()).toArray();
    this.set = remembering.stream().mapToInt(latch -> input(latch.set())).toArray();
    this.reset = remembering.stream().mapToInt(latch -> input(latch.reset())).toArray();
    this.inputsOfGates = gates.toArray(int[][]::new);
    this.values = new long[network.variables().size() + inputsOfGates.length];
  }

  /** Lays on what a variable that is no equation is in each case. */
  void lay(Variable variable, long word) {
    values[variable.index()] = word;
  }

  /** Lays on what a latch is in all cases alike. */
  void layLatch(int latch, boolean value) {
    values[latches[latch]] = value ? -1 : 0;
  }

  /** Works out everything that follows from what is laid on. */
  void workOut() {
    int gate = network.variables().size();
    for (int[] inputs : inputsOfGates) {
      long value = -1;
      for (int input : inputs) {
        value &= value(input);
      }
      values[gate++] = value;
    }
  }

  /** What one of the variables that are asked for is in each case, by its place among them. */
  long asked(int place) {
    return value(asked[place]);
  }

  /** In which cases a latch changes at the end of the tick. */
  long changes(int latch) {
    long now = values[latches[latch]];
    return now ^ (~value(reset[latch]) & (value(set[latch]) | now));
  }

  private long value(int input) {
    return values[input >> 1] ^ -(input & 1);
  }

  private int input(Variable variable) {
    Expression meaning = network.equations().get(variable);
    if (meaning == null) {
      return variable.index() << 1;
    }
    Integer known = equations.get(variable);
    if (known == null) {
      known = input(meaning);
      equations.put(variable, known);
    }
    return known;
  }

  private int input(Expression expression) {
    if (expression instanceof Expression.Is is) {
      return input(is.variable());
    }
    if (expression instanceof Expression.Not not) {
      return opposite(input(not.part()));
    }
    if (expression instanceof Expression.All all) {
      return gate(all.parts().stream().mapToInt(this::input).toArray());
    }
    List<Expression> parts = ((Expression.Any) expression).parts();
    return opposite(gate(parts.stream().mapToInt(part -> opposite(input(part))).toArray()));
  }

  private static int opposite(int input) {
    return input ^ 1;
  }

  private int gate(int[] inputs) {
    gates.add(inputs);
    return (network.variables().size() + gates.size() - 1) << 1;
  }
}
