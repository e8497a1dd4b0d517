package tappet.network;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;

/**
 * A network laid out in arrays for the stepper: its variables, and one gate for each compound part
 * of an expression. A gate counts how many of its inputs must still become true before it is true
 * itself, so that the change of one input costs the same however many inputs there are.
 */
final class Circuit {

  /**
   * A gate while the circuit is being laid out.
   *
   * @param missingWhenDark how many of its inputs must become true before it is, all of them or
   *     one, when every node is false; 0 stands for inputs and latches, which no gate drives
   * @param literals nodes and whether their opposite is meant, as {@code node * 2 + opposite}
   * @param level its distance from inputs and latches
   */
  private record Gate(int missingWhenDark, List<Integer> literals, int level) {}

  private static final int NO_LATCH = -1;

  private final List<Gate> gates = new ArrayList<>();
  private final int variableCount;

  /** By node: its distance from inputs and latches. */
  final int[] level;

  /** By node: how many of its inputs must become true before it is, when every node is false. */
  final int[] missingWhenDark;

  /** Where a node's readers start in {@link #readers}; one longer than there are nodes. */
  final int[] readersStart;

  /** Gates that read a node, as {@code gate * 2 + opposite}. */
  final int[] readers;

  /** By node: the latch that it sets or resets, or -1. */
  final int[] latchDriven;

  /** By latch: its own node, the node that sets it and the node that resets it. */
  final int[] latchNode;

  final int[] setNode;
  final int[] resetNode;

  Circuit(Network network) {
    variableCount = network.variables().size();
    for (int node = 0; node < variableCount; node++) {
      gates.add(new Gate(0, List.of(), 0));
    }
    network.equations().forEach(this::drive);

    List<Latch> latches = List.copyOf(network.latches().values());
    latchNode = latches.stream().mapToInt(latch -> latch.variable().index()).toArray();
    setNode = latches.stream().mapToInt(latch -> ownGate(latch.set())).toArray();
    resetNode = latches.stream().mapToInt(latch -> ownGate(latch.reset())).toArray();

    level = gates.stream().mapToInt(Gate::level).toArray();
    missingWhenDark = gates.stream().mapToInt(Gate::missingWhenDark).toArray();
    readersStart = countReaders();
    readers = collectReaders();
    latchDriven = latchesDriven();
    gates.clear();
  }

  int nodes() {
    return level.length;
  }

  int variables() {
    return variableCount;
  }

  int latches() {
    return latchNode.length;
  }

  int levels() {
    return Arrays.stream(level).max().orElse(0) + 1;
  }

  boolean isGate(int node) {
    return level[node] > 0;
  }

  private void drive(Variable equation, Expression meaning) {
    gates.set(equation.index(), gateFor(meaning));
  }

  private int ownGate(Expression expression) {
    gates.add(gateFor(expression));
    return gates.size() - 1;
  }

  private Gate gateFor(Expression expression) {
    if (expression instanceof Expression.All all) {
      return gate(all.parts().size(), all.parts());
    }
    if (expression instanceof Expression.Any any) {
      return gate(1, any.parts());
    }
    return gate(1, List.of(expression));
  }

  private Gate gate(int threshold, List<Expression> parts) {
    List<Integer> literals = new ArrayList<>(parts.size());
    int deepest = 0;
    int opposites = 0;
    for (Expression part : parts) {
      int literal = literal(part);
      literals.add(literal);
      deepest = Math.max(deepest, gates.get(literal / 2).level());
      opposites += literal % 2;
    }
    return new Gate(threshold - opposites, literals, deepest + 1);
  }

  private int literal(Expression expression) {
    if (expression instanceof Expression.Is is) {
      return is.variable().index() * 2;
    }
    if (expression instanceof Expression.Not not) {
      return literal(not.part()) ^ 1;
    }
    return ownGate(expression) * 2;
  }

  private int[] countReaders() {
    int[] start = new int[gates.size() + 1];
    gates.forEach(gate -> gate.literals().forEach(literal -> start[literal / 2 + 1]++));
    for (int node = 0; node < gates.size(); node++) {
      start[node + 1] += start[node];
    }
    return start;
  }

  private int[] collectReaders() {
    int[] next = readersStart.clone();
    int[] found = new int[readersStart[gates.size()]];
    for (int gate = 0; gate < gates.size(); gate++) {
      for (int literal : gates.get(gate).literals()) {
        found[next[literal / 2]++] = gate * 2 + literal % 2;
      }
    }
    return found;
  }

  private int[] latchesDriven() {
    int[] driven = new int[nodes()];
    Arrays.fill(driven, NO_LATCH);
    for (int latch = 0; latch < latches(); latch++) {
      driven[setNode[latch]] = latch;
      driven[resetNode[latch]] = latch;
    }
    return driven;
  }

  /** Which latches are true before the first tick. */
  static boolean[] initialLatches(Map<Variable, Latch> latches) {
    boolean[] initially = new boolean[latches.size()];
    int ordinal = 0;
    for (Latch latch : latches.values()) {
      initially[ordinal++] = latch.initially();
    }
    return initially;
  }
}
