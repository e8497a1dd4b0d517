package tappet.lcc;

import java.util.Optional;

/**
 * The unique identifier of a node: 6 bytes, most significant first (S-9.7.0.3 §4).
 *
 * @param value 48 bits, 0 to 0xFFFFFFFFFFFF
 */
public record NodeId(long value) implements Comparable<NodeId> {

  private static final int BYTES = 6;
  private static final long VALUE_MAX = 0xFFFF_FFFF_FFFFL;

  public NodeId {
    if (value < 0 || value > VALUE_MAX) {
      throw new IllegalArgumentException("node id 0x%X, expected 48 bits".formatted(value));
    }
  }

  /** Reads the dotted form; empty if {@code text} is not six dotted hexadecimal bytes. */
  public static Optional<NodeId> parse(String text) {
    var value = DottedHex.parse(text, BYTES);
    return value.isPresent() ? Optional.of(new NodeId(value.getAsLong())) : Optional.empty();
  }

  /**
   * Reads the dotted form of an identifier known to be right.
   *
   * @throws IllegalArgumentException if it is not
   */
  public static NodeId of(String text) {
    return parse(text)
        .orElseThrow(
            () -> new IllegalArgumentException(text + ", expected six dotted hexadecimal bytes"));
  }

  /** Written out: what Java makes up at run time for a record takes some 5 ms of every start. */
  @Override
  public boolean equals(Object other) {
    return other instanceof NodeId id && id.value == value;
  }

  @Override
  public int hashCode() {
    return Long.hashCode(value);
  }

  @Override
  public int compareTo(NodeId other) {
    return Long.compare(value, other.value);
  }

  @Override
  public String toString() {
    return DottedHex.format(value, BYTES);
  }
}
