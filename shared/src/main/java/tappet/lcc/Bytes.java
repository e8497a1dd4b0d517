package tappet.lcc;

import java.util.Arrays;
import java.util.HexFormat;

/** A row of bytes that never changes: the content of a datagram, or a piece of memory. */
public final class Bytes {

  /** No bytes. */
  public static final Bytes EMPTY = new Bytes(new byte[0]);

  private static final HexFormat HEX = HexFormat.of().withUpperCase();

  private final byte[] content;

  private Bytes(byte[] content) {
    this.content = content;
  }

  /** The low eight bits of each value. */
  public static Bytes of(int... values) {
    byte[] content = new byte[values.length];
    for (int index = 0; index < values.length; index++) {
      content[index] = (byte) values[index];
    }
    return new Bytes(content);
  }

  /** A copy of these bytes. */
  public static Bytes copyOf(byte[] content) {
    return new Bytes(content.clone());
  }

  /** A copy of {@code length} bytes from {@code from} on. */
  public static Bytes copyOf(byte[] content, int from, int length) {
    return new Bytes(Arrays.copyOfRange(content, from, from + length));
  }

  /** The low {@code length} bytes of a number, most significant first; 0 to 8. */
  public static Bytes ofNumber(long value, int length) {
    byte[] content = new byte[length];
    for (int index = 0; index < length; index++) {
      content[index] = (byte) (value >>> (8 * (length - 1 - index)));
    }
    return new Bytes(content);
  }

  /**
   * Reads hexadecimal digits, two a byte.
   *
   * @throws IllegalArgumentException if there is anything else
   */
  public static Bytes ofHex(String digits) {
    return new Bytes(HEX.parseHex(digits));
  }

  public int length() {
    return content.length;
  }

  /** The byte at {@code index}, 0 to 255. */
  public int at(int index) {
    return content[index] & 0xFF;
  }

  /** {@code length} bytes from {@code from} on as an unsigned number; at most 8. */
  public long number(int from, int length) {
    long value = 0;
    for (int index = from; index < from + length; index++) {
      value = (value << 8) | at(index);
    }
    return value;
  }

  public Bytes from(int from) {
    return slice(from, content.length - from);
  }

  public Bytes slice(int from, int length) {
    return copyOf(content, from, length);
  }

  /** These bytes and then those. */
  public Bytes and(Bytes after) {
    byte[] both = Arrays.copyOf(content, content.length + after.content.length);
    System.arraycopy(after.content, 0, both, content.length, after.content.length);
    return new Bytes(both);
  }

  public byte[] toArray() {
    return content.clone();
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Bytes bytes && Arrays.equals(content, bytes.content);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(content);
  }

  /** Upper-case hexadecimal digits. */
  @Override
  public String toString() {
    return HEX.formatHex(content);
  }
}
