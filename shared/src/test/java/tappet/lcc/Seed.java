package tappet.lcc;

/** A fresh seed for each run of a test, printed so that the run can be had again. */
public final class Seed {

  private Seed() {}

  /** The seed given with {@code -Dseed=…}, or a fresh one. */
  public static long of(Class<?> test) {
    long seed = Long.getLong("seed", System.nanoTime());
    System.out.println(test.getSimpleName() + ": replay with -Dseed=" + seed);
    return seed;
  }
}
