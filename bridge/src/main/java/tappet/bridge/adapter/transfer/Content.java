package tappet.bridge.adapter.transfer;

import java.util.Arrays;
import java.util.HexFormat;

/** Bytes that never change: what a message carries beyond its ids. */
public final class Content {

  /** No bytes. */
  public static final Content EMPTY = new Content(new byte[0]);

  private static final HexFormat HEX = HexFormat.of().withUpperCase();

  private final byte[] bytes;

  private Content(byte[] bytes) {
    this.bytes = bytes;
  }

  /** A copy of these bytes. */
  public static Content of(byte[] bytes) {
    return bytes.length == 0 ? EMPTY : new Content(bytes.clone());
  }

  /**
   * Bytes written as hexadecimal digits, two a byte.
   *
   * @throws IllegalArgumentException if they are not
   */
  public static Content ofHex(String digits) {
    return new Content(HEX.parseHex(digits));
  }

  /** How many bytes. */
  public int length() {
    return bytes.length;
  }

  /** A copy of the bytes. */
  public byte[] toBytes() {
    return bytes.clone();
  }

  /** These bytes and then those. */
  public Content then(Content next) {
    byte[] both = Arrays.copyOf(bytes, bytes.length + next.bytes.length);
    System.arraycopy(next.bytes, 0, both, bytes.length, next.bytes.length);
    return new Content(both);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Content content && Arrays.equals(bytes, content.bytes);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(bytes);
  }

  @Override
  public String toString() {
    return HEX.formatHex(bytes);
  }
}
