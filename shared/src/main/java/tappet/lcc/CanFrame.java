package tappet.lcc;

/**
 * One extended CAN data frame (S-9.7.2.1 §4).
 *
 * @param header the 29-bit header, 0 to 0x1FFFFFFF
 * @param length the number of data bytes, 0 to 8
 * @param data the data bytes, the first one most significant; bytes beyond {@code length} are zero
 */
public record CanFrame(int header, int length, long data) {

  /** The largest 29-bit header. */
  public static final int HEADER_MAX = 0x1FFFFFFF;

  /** The most data bytes a frame carries. */
  public static final int LENGTH_MAX = 8;

  private static final int ALIAS_MASK = 0xFFF;

  public CanFrame {
    if (header < 0 || header > HEADER_MAX) {
      throw new IllegalArgumentException(
          "header 0x%X, expected 0 to 0x%X".formatted(header, HEADER_MAX));
    }
    if (length < 0 || length > LENGTH_MAX) {
      throw new IllegalArgumentException("length " + length + ", expected 0 to " + LENGTH_MAX);
    }
    if ((data & ~keep(length)) != 0) {
      throw new IllegalArgumentException("data beyond the " + length + " bytes of the frame");
    }
  }

  /** A frame without data. */
  public static CanFrame empty(int header) {
    return new CanFrame(header, 0, 0);
  }

  /**
   * A frame whose {@code length} data bytes are the low bytes of {@code value}, the most
   * significant first.
   */
  public static CanFrame of(int header, int length, long value) {
    return new CanFrame(header, length, length == 0 ? 0 : value << (8 * (LENGTH_MAX - length)));
  }

  /** The 12-bit alias of the sender (S-9.7.2.1 §4). */
  public int sourceAlias() {
    return header & ALIAS_MASK;
  }

  /**
   * The data byte at {@code index}, 0 to 255.
   *
   * @throws IndexOutOfBoundsException unless {@code 0 <= index < length}
   */
  public int dataByte(int index) {
    if (index < 0 || index >= length) {
      throw new IndexOutOfBoundsException("data byte " + index + " of " + length);
    }
    return (int) (data >>> (8 * (LENGTH_MAX - 1 - index))) & 0xFF;
  }

  /** The data bytes as one unsigned number, the first byte most significant. */
  public long dataValue() {
    return length == 0 ? 0 : data >>> (8 * (LENGTH_MAX - length));
  }

  private static long keep(int length) {
    return length == 0 ? 0 : -1L << (8 * (LENGTH_MAX - length));
  }
}
