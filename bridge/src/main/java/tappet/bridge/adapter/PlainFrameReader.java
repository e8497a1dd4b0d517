package tappet.bridge.adapter;

import tappet.lcc.CanFrame;

/**
 * Reads a text frame that is there whole and in the form everybody sends: {@code :X}, eight digits,
 * {@code N}, pairs of digits, {@code ;}, all in upper case. Does not read anything else, and is
 * several times faster than a reader that takes every form in any number of pieces. One thread
 * only.
 */
final class PlainFrameReader {

  private static final int HEADER_AT = 2;
  private static final int KIND_AT = 10;
  private static final int DATA_AT = 11;
  private static final int FULL_END_AT = DATA_AT + 2 * CanFrame.LENGTH_MAX;

  private int header;
  private int length;
  private long data;

  /** The index behind the frame that starts at {@code at}, or {@code at} if this is none. */
  int read(byte[] bytes, int at, int end) {
    if (!readHead(bytes, at, end)) {
      return at;
    }
    boolean isFull = end - at > FULL_END_AT && bytes[at + FULL_END_AT] == ';';
    return isFull && readFullData(bytes, at + DATA_AT)
        ? at + FULL_END_AT + 1
        : readSomeData(bytes, at, end);
  }

  private boolean readHead(byte[] bytes, int at, int end) {
    boolean isHead =
        end - at > DATA_AT
            && bytes[at] == ':'
            && bytes[at + 1] == 'X'
            && bytes[at + KIND_AT] == 'N';
    if (!isHead) {
      return false;
    }
    long number = EightDigits.read(bytes, at + HEADER_AT);
    header = (int) number;
    return number >= 0 && number <= CanFrame.HEADER_MAX;
  }

  /** Eight data bytes, as events have them. */
  private boolean readFullData(byte[] bytes, int at) {
    long high = EightDigits.read(bytes, at);
    long low = EightDigits.read(bytes, at + 8);
    data = (high << 32) | low;
    length = CanFrame.LENGTH_MAX;
    return high >= 0 && low >= 0;
  }

  private int readSomeData(byte[] bytes, int at, int end) {
    data = 0;
    length = 0;
    int index = at + DATA_AT;
    while (index < end && bytes[index] != ';') {
      int pair = end - index < 2 ? -1 : pair(bytes, index);
      if (pair < 0 || length == CanFrame.LENGTH_MAX) {
        return at;
      }
      data = (data << 8) | pair;
      length++;
      index += 2;
    }
    return index < end ? index + 1 : at;
  }

  /** Negative if one of the two is no digit. */
  private static int pair(byte[] bytes, int index) {
    return (Character.digit(bytes[index], 16) << 4) | Character.digit(bytes[index + 1], 16);
  }

  /** The frame read last. */
  CanFrame frame() {
    return length == CanFrame.LENGTH_MAX
        ? new CanFrame(header, length, data)
        : CanFrame.of(header, length, data);
  }
}
