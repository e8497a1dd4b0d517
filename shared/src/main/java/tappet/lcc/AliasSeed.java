package tappet.lcc;

/**
 * Where a node stands in its row of aliases: kept while the node is off, it makes the next start
 * begin with the alias last used (S-9.7.2.1 §6.3). Any value is good; aliases that are taken are
 * passed over as always.
 *
 * @param value 48 bits, 0 to 0xFFFFFFFFFFFF
 */
public record AliasSeed(long value) {

  private static final long VALUE_MAX = 0xFFFF_FFFF_FFFFL;

  public AliasSeed {
    if (value < 0 || value > VALUE_MAX) {
      throw new IllegalArgumentException("alias seed 0x%X, expected 48 bits".formatted(value));
    }
  }

  /** The seed of a node that was never on: its node id. */
  public static AliasSeed of(NodeId node) {
    return new AliasSeed(node.value());
  }
}
