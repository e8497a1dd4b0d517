package tappet.lcc;

/**
 * Draws the aliases a node tries, one after the other (the algorithm recommended in TN-9.7.2.1
 * §6.1). Deterministic: the same node id gives the same row. Zero is no alias and never drawn
 * (S-9.7.2.1 §6.3).
 *
 * <p>The first alias comes from the node id itself, before any step: the text leaves that open, but
 * its Appendix A pairs each seed with its own alias, and stepping first would often give nodes with
 * neighbouring ids the same first alias.
 */
final class AliasGenerator {

  private static final long STATE_MASK = 0xFFFF_FFFF_FFFFL;
  private static final long MULTIPLIER = (1 << 9) + 1;
  private static final long INCREMENT = 0x1B0C_A37A_4BA9L;

  private long drawn;
  private long next;

  AliasGenerator(AliasSeed seed) {
    drawn = seed.value();
    next = seed.value();
  }

  /** The next alias to try, 1 to {@link Header#ALIAS_MAX}. */
  int next() {
    drawn = next;
    next = step(next);
    int alias = alias(drawn);
    return alias == 0 ? next() : alias;
  }

  /** The seed that gives the alias drawn last once more. */
  AliasSeed seed() {
    return new AliasSeed(drawn);
  }

  static int alias(long state) {
    long folded = (state >>> 36) ^ (state >>> 24) ^ (state >>> 12) ^ state;
    return (int) folded & Header.ALIAS_MAX;
  }

  static long step(long state) {
    return (state * MULTIPLIER + INCREMENT) & STATE_MASK;
  }
}
