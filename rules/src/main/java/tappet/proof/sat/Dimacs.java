package tappet.proof.sat;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import tappet.network.Network;
import tappet.network.Variable;

/**
 * Keeps a formula and writes it as a DIMACS CNF file, which any SAT solver reads: comments, a line
 * {@code p cnf VARIABLES CLAUSES}, and the clauses, each ended by 0.
 *
 * <p>The format is that of the second DIMACS challenge (<i>Satisfiability: Suggested Format</i>,
 * 1993), written from memory; the tests have three solvers read it.
 */
public final class Dimacs implements Clauses {

  private final List<int[]> clauses = new ArrayList<>();
  private final List<String> meanings = new ArrayList<>();
  private int variables;

  @Override
  public int fresh() {
    return ++variables;
  }

  @Override
  public void demand(int... literals) {
    for (int literal : literals) {
      require(literal);
    }
    clauses.add(literals.clone());
  }

  /** Says in a comment what it means that a literal holds. */
  public void explain(int literal, String meaning) {
    require(literal);
    meanings.add(literal + " " + OneLine.of(meaning));
  }

  /**
   * Names, in comments, every variable of a network that an unrolling into this formula has
   * written.
   *
   * @param ticks how many ticks to name, from the first
   */
  public void explainAll(Network network, Unrolling unrolling, int ticks) {
    for (int tick = 0; tick < ticks; tick++) {
      for (Variable variable : network.variables()) {
        if (unrolling.isWritten(variable, tick)) {
          explain(unrolling.literal(variable, tick), "tick " + tick + ", " + variable);
        }
      }
    }
  }

  /**
   * Writes the file.
   *
   * @param assumed literals demanded in this file only, as in {@link Solver#search}
   */
  public void write(Appendable out, int... assumed) throws IOException {
    for (String meaning : meanings) {
      out.append("c ").append(meaning).append('\n');
    }
    out.append("p cnf " + variables + " " + (clauses.size() + assumed.length) + "\n");
    for (int[] clause : clauses) {
      writeClause(out, clause);
    }
    for (int literal : assumed) {
      require(literal);
      writeClause(out, literal);
    }
  }

  private static void writeClause(Appendable out, int... literals) throws IOException {
    for (int literal : literals) {
      out.append(Integer.toString(literal)).append(' ');
    }
    out.append("0\n");
  }

  private void require(int literal) {
    if (literal == 0 || Math.abs(literal) > variables) {
      throw new IllegalArgumentException(
          "literal " + literal + ", expected 1 to " + variables + " or its opposite");
    }
  }
}
