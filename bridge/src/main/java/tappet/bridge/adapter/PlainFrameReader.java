package tappet.bridge.adapter;

import java.util.Arrays;
import tappet.lcc.CanFrame;

/**
 * Reads a text frame that is there whole and in the form everybody sends: {@code :X}, eight digits,
 * {@code N}, pairs of digits, {@code ;}. Does not read anything else, and is several times faster
 * than a reader that takes every form in any number of pieces. One thread only.
 */
final class PlainFrameReader {

  private static final int HEADER_AT = 2;
  private static final int KIND_AT = 10;
  private static final int DATA_AT = 11;
  private static final byte[] DIGITS = digits();

  private int header;
  private int length;
  private long data;

  private static byte[] digits() {
    byte[] digits = new byte[256];
    Arrays.fill(digits, (byte) -1);
    for (int symbol = 0; symbol < 128; symbol++) {
      digits[symbol] = (byte) Character.digit(symbol, 16);
    }
    return digits;
  }

  /** The index behind the frame that starts at {@code at}, or {@code at} if this is none. */
  int read(byte[] bytes, int at, int end) {
    boolean starts =
        end - at > DATA_AT
            && bytes[at] == ':'
            && bytes[at + 1] == 'X'
            && bytes[at + KIND_AT] == 'N'
            && readHeader(bytes, at + HEADER_AT);
    return starts ? readData(bytes, at, end) : at;
  }

  private boolean readHeader(byte[] bytes, int at) {
    long number = 0;
    for (int index = at; index < at + 8; index++) {
      number = number << 4 | DIGITS[bytes[index] & 0xFF];
    }
    header = (int) number;
    // A symbol that is no digit sets all bits from its place on.
    return number >= 0 && number <= CanFrame.HEADER_MAX;
  }

  private int readData(byte[] bytes, int at, int end) {
    data = 0;
    length = 0;
    int index = at + DATA_AT;
    while (index < end && bytes[index] != ';') {
      if (length == CanFrame.LENGTH_MAX || end - index < 2) {
        return at;
      }
      int pair = DIGITS[bytes[index] & 0xFF] << 4 | DIGITS[bytes[index + 1] & 0xFF];
      if (pair < 0) {
        return at;
      }
      data = data << 8 | pair;
      length++;
      index += 2;
    }
    return index < end ? index + 1 : at;
  }

  /** The frame read last. */
  CanFrame frame() {
    return CanFrame.of(header, length, data);
  }
}
