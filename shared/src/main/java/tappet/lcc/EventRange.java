package tappet.lcc;

/**
 * An aligned block of events that one 64-bit value stands for (S-9.7.3.1 §4): the run of equal bits
 * at its low end covers the block, and the bit above ends the run.
 *
 * @param first the first event of the block; its low {@code countLog2} bits are zero
 * @param countLog2 the binary logarithm of the number of events, 1 to 63: a range always covers at
 *     least two events, and a block of all 2^64 cannot be told from its half
 */
public record EventRange(EventId first, int countLog2) {

  private static final int COUNT_LOG2_MAX = 63;

  public EventRange {
    if (countLog2 < 1 || countLog2 > COUNT_LOG2_MAX) {
      throw new IllegalArgumentException("2^" + countLog2 + " events, expected 2^1 to 2^63");
    }
    if ((first.value() & mask(countLog2)) != 0) {
      throw new IllegalArgumentException(
          first + " begins no block of 2^" + countLog2 + " events; expected zeros at its end");
    }
  }

  /** All events made from a node id (S-9.7.0.4 §5.1). */
  public static EventRange of(NodeId node) {
    return new EventRange(new EventId(node.value() << 16), 16);
  }

  /** The block that an encoded range stands for. Every value is one. */
  public static EventRange decode(EventId encoded) {
    long value = encoded.value();
    boolean ones = (value & 1) != 0;
    int run = Long.numberOfTrailingZeros(ones ? ~value : value);
    int countLog2 = Math.min(run, COUNT_LOG2_MAX);
    return new EventRange(new EventId(value & ~mask(countLog2)), countLog2);
  }

  /**
   * The value that stands for the block: its low bits filled with the opposite of the one above.
   */
  public EventId encode() {
    boolean above = (first.value() >>> countLog2 & 1) != 0;
    return above ? first : last();
  }

  public EventId last() {
    return new EventId(first.value() | mask(countLog2));
  }

  public boolean contains(EventId event) {
    return contains(event.value());
  }

  boolean contains(long event) {
    return (event & ~mask(countLog2)) == first.value();
  }

  @Override
  public String toString() {
    return first + " to " + last();
  }

  private static long mask(int countLog2) {
    return (1L << countLog2) - 1;
  }
}
