package tappet.source;

import java.util.List;
import java.util.TreeSet;

/** Gathers every mistake of one run, so that an owner mends a file once and not line by line. */
public final class Problems {

  private final TreeSet<Problem> found = new TreeSet<>();

  /** Notes a mistake; saying the same thing twice about one place counts once. */
  public void add(Place place, String wrong, String meant) {
    add(new Problem(place, wrong, meant));
  }

  /** Notes a mistake. */
  public void add(Problem problem) {
    found.add(problem);
  }

  /** Whether nothing was wrong so far. */
  public boolean none() {
    return found.isEmpty();
  }

  /** All mistakes in reading order. */
  public List<Problem> sorted() {
    return List.copyOf(found);
  }
}
