package tappet.proof.published;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * One tick of a network in one state, worked out for 64 events at once: the value of a variable is
 * a word, and each of its bits a case in which another event comes. It shares nothing with the
 * stepper, the unrolling and the exports but the network itself.
 *
 * <p>Everything becomes gates that are true where all of their inputs are: "any" is the opposite of
 * "none". An input names a value by twice its number, and by one more its opposite.
 */
final class ManyCases {

  /** A gate, and where its value is. */
  private static final class Gate {

    private final int value;
    private final int[] inputs;

    Gate(int value, List<Integer> inputs) {
      this.value = value;
      this.inputs = inputs.stream().mapToInt(input -> input).toArray();
    }
  }

  private final Network network;

  /** By the inputs of each gate: where its value is. */
  private final Map<List<Integer>, Integer> gates = new LinkedHashMap<>();

  /** By equation that something depends on: the input that stands for it. */
  private final Map<Variable, Integer> equations = new HashMap<>();

  private final int[] asked;
  private final int[] set;
  private final int[] reset;
  private final int[] latches;

  /** What follows from the state alone, and what from the events too. */
  private final List<Gate> still = new ArrayList<>();

  private final List<Gate> moving = new ArrayList<>();

  /** By variable, and then by gate. */
  private final long[] values;

  private List<Variable> coming = List.of();

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
    this.values = new long[network.variables().size() + gates.size()];
    sortGates();
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
      return gate(all.parts().stream().map(this::input).toList());
    }
    List<Expression> parts = ((Expression.Any) expression).parts();
    return opposite(gate(parts.stream().map(part -> opposite(input(part))).toList()));
  }

  private static int opposite(int input) {
    return input ^ 1;
  }

  private int gate(List<Integer> inputs) {
    return gates.computeIfAbsent(inputs, any -> network.variables().size() + gates.size()) << 1;
  }

  private void sortGates() {
    boolean[] moves = new boolean[values.length];
    network.variables().stream()
        .filter(any -> any.kind() == Variable.Kind.PULSE)
        .forEach(pulse -> moves[pulse.index()] = true);
    gates.forEach(
        (inputs, value) -> {
          moves[value] = inputs.stream().anyMatch(input -> moves[input >> 1]);
          (moves[value] ? moving : still).add(new Gate(value, inputs));
        });
  }

  /**
   * Lays a state on, without any event.
   *
   * @param state a bit for each latch, in the network's order
   */
  void lay(long[] state) {
    lay(List.of());
    for (int latch = 0; latch < latches.length; latch++) {
      values[latches[latch]] = -(state[latch / Long.SIZE] >>> latch & 1);
    }
    workOut(still);
  }

  /** Lets up to 64 events come, each in a case of its own. */
  void let(List<Variable> events) {
    lay(events);
    workOut(moving);
  }

  private void lay(List<Variable> events) {
    coming.forEach(event -> values[event.index()] = 0);
    coming = events;
    for (int event = 0; event < events.size(); event++) {
      values[events.get(event).index()] = 1L << event;
    }
  }

  private void workOut(List<Gate> these) {
    for (Gate gate : these) {
      long value = -1;
      for (int input : gate.inputs) {
        value &= value(input);
        if (value == 0) {
          break;
        }
      }
      values[gate.value] = value;
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
}
