package tappet.proof.sat;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import org.sat4j.minisat.orders.VarOrderHeap;

/**
 * Tries wishes before anything else is decided: what is found then fulfils about as many as can be
 * fulfilled together, where the solver left alone would be content with one.
 */
final class WishesFirst extends VarOrderHeap {

  private static final long serialVersionUID = 1;

  private final List<Integer> wishes = new ArrayList<>();
  private final BitSet wished = new BitSet();

  /** Every wish before this one is decided. */
  private int next;

  void add(int literal) {
    wishes.add(lits.getFromPool(literal));
    wished.set(Math.abs(literal));
  }

  @Override
  public void undo(int variable) {
    super.undo(variable);
    if (wished.get(variable)) {
      next = 0;
    }
  }

  @Override
  public int select() {
    while (next < wishes.size() && !lits.isUnassigned(wishes.get(next))) {
      next++;
    }
    return next < wishes.size() ? wishes.get(next) : super.select();
  }
}
