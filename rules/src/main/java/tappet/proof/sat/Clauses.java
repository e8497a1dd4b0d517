package tappet.proof.sat;

/**
 * Takes a formula clause by clause. A literal is the number of a variable; minus is its opposite.
 */
public interface Clauses {

  /** A new variable, numbered from 1. */
  int fresh();

  /** Demands that at least one of the literals holds. */
  void demand(int... literals);

  /** A literal that always holds. */
  default int yes() {
    int yes = fresh();
    demand(yes);
    return yes;
  }
}
