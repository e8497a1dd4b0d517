package tappet.lcc;

import java.util.Optional;

/**
 * The identifier of an event: 8 bytes, most significant first (S-9.7.0.4 §4).
 *
 * @param value all 64 bits, any value
 */
public record EventId(long value) implements Comparable<EventId> {

  private static final int BYTES = 8;

  /** Reads the dotted form; empty if {@code text} is not eight dotted hexadecimal bytes. */
  public static Optional<EventId> parse(String text) {
    var value = DottedHex.parse(text, BYTES);
    return value.isPresent() ? Optional.of(new EventId(value.getAsLong())) : Optional.empty();
  }

  /**
   * Reads the dotted form of an identifier known to be right.
   *
   * @throws IllegalArgumentException if it is not
   */
  public static EventId of(String text) {
    return parse(text)
        .orElseThrow(
            () -> new IllegalArgumentException(text + ", expected eight dotted hexadecimal bytes"));
  }

  /** The node whose six bytes the event id starts with (S-9.7.0.4 §5.1: the usual allocation). */
  public NodeId allocatedBy() {
    return new NodeId(value >>> 16);
  }

  /** Written out: what Java makes up at run time for a record takes some 5 ms of every start. */
  @Override
  public boolean equals(Object other) {
    return other instanceof EventId id && id.value == value;
  }

  @Override
  public int hashCode() {
    return Long.hashCode(value);
  }

  @Override
  public int compareTo(EventId other) {
    return Long.compareUnsigned(value, other.value);
  }

  @Override
  public String toString() {
    return DottedHex.format(value, BYTES);
  }
}
