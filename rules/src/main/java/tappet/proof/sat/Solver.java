package tappet.proof.sat;

import org.sat4j.core.VecInt;
import org.sat4j.minisat.SolverFactory;
import org.sat4j.minisat.core.ICDCL;
import org.sat4j.specs.ContradictionException;
import org.sat4j.specs.TimeoutException;

/** Searches for values that satisfy every clause. One thread at a time may use it. */
public final class Solver implements Clauses {

  /** Long past any useful question: a solver that needs it is as good as stuck. */
  private static final int CONFLICTS_MAX = 2_000_000;

  /** What a search has found. */
  public enum Outcome {
    SATISFIED,
    IMPOSSIBLE,
    /** The search was given up. */
    UNKNOWN
  }

  private final ICDCL<?> solver = SolverFactory.newGlucose21();
  private final WishesFirst order = new WishesFirst();
  private int variables;
  private boolean contradicted;

  public Solver() {
    this(CONFLICTS_MAX);
  }

  /**
   * @param conflictsMax after how many conflicts a search is given up, above 0
   */
  public Solver(int conflictsMax) {
    solver.setTimeoutOnConflicts(conflictsMax);
    order.setPhaseSelectionStrategy(solver.getOrder().getPhaseSelectionStrategy());
    solver.setOrder(order);
  }

  @Override
  public int fresh() {
    variables++;
    return solver.nextFreeVarId(true);
  }

  @Override
  public void demand(int... literals) {
    try {
      solver.addClause(new VecInt(literals.clone()));
    } catch (ContradictionException e) {
      contradicted = true;
    }
  }

  /** Wishes for a literal: where it can be had, what is found has it. */
  public void wish(int literal) {
    order.add(literal);
  }

  /** Whether there are values for which all clauses and these literals hold. */
  public Outcome search(int... assumed) {
    if (contradicted) {
      return Outcome.IMPOSSIBLE;
    }
    try {
      return solver.isSatisfiable(new VecInt(assumed)) ? Outcome.SATISFIED : Outcome.IMPOSSIBLE;
    } catch (TimeoutException e) {
      return Outcome.UNKNOWN;
    }
  }

  /** The value of a literal in what was found last. */
  public boolean value(int literal) {
    return solver.model(Math.abs(literal)) == literal > 0;
  }

  /** How many variables there are. */
  public int variables() {
    return variables;
  }
}
