package tappet.proof.sat;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Gates with two inputs and no other kind, as AIGER has them. A literal is twice a number, plus 1
 * for its opposite; number 0 is the constant.
 */
final class AndGates {

  static final int FALSE = 0;
  static final int TRUE = 1;

  /**
   * @param greater the input with the greater literal
   * @param lesser the other one
   */
  record Gate(int greater, int lesser) {}

  private final int numbersBefore;
  private final List<Gate> gates = new ArrayList<>();
  private final Map<Gate, Integer> literalOf = new HashMap<>();

  /**
   * @param numbersBefore how many numbers are taken by what is no gate, without the constant
   */
  AndGates(int numbersBefore) {
    this.numbersBefore = numbersBefore;
  }

  /** The opposite of a literal. */
  static int not(int literal) {
    return literal ^ 1;
  }

  /** That both hold. */
  int and(int one, int other) {
    if (one == FALSE || other == FALSE || one == not(other)) {
      return FALSE;
    }
    if (one == TRUE || one == other) {
      return other;
    }
    if (other == TRUE) {
      return one;
    }
    return literalOf.computeIfAbsent(
        new Gate(Math.max(one, other), Math.min(one, other)), this::add);
  }

  /** That at least one holds. */
  int or(int one, int other) {
    return not(and(not(one), not(other)));
  }

  /** All gates; each reads only what is before it. */
  List<Gate> gates() {
    return gates;
  }

  /** The literal of a gate, by its place among all. */
  int literal(int gate) {
    return 2 * (numbersBefore + 1 + gate);
  }

  private int add(Gate gate) {
    gates.add(gate);
    return literal(gates.size() - 1);
  }
}
