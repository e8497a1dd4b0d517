package tappet.bridge.adapter;

import java.nio.charset.StandardCharsets;
import tappet.lcc.CanFrame;

/**
 * The words of the ASCII protocol for CAN adapters that the Linux driver slcan speaks. From memory
 * of the public documentation of that driver; no LCC document tells of it.
 */
final class SlcanText {

  static final char EXTENDED = 'T';
  static final char STANDARD = 't';
  static final char EXTENDED_REMOTE = 'R';
  static final char STANDARD_REMOTE = 'r';
  static final char STATUS = 'F';
  static final char END = '\r';
  static final char BELL = 7;

  static final int EXTENDED_DIGITS = 8;
  static final int STANDARD_DIGITS = 3;
  static final int STAMP_DIGITS = 4;

  private static final String DIGITS = "0123456789ABCDEF";

  private SlcanText() {}

  /** Ends a command half said, closes the channel, sets 125 kbit/s and opens the channel. */
  static byte[] opening() {
    return ascii("\r\rC\rS4\rO\r");
  }

  /** As {@link #opening}, but so that it sends nothing, not even that it has heard a frame. */
  static byte[] openingToListen() {
    return ascii("\r\rC\rS4\rL\r");
  }

  static byte[] closing() {
    return ascii("C\r");
  }

  static byte[] statusQuestion() {
    return ascii("F\r");
  }

  /** Writes a frame as {@code Tiiiiiiiildd…} and the end; answers the offset behind it. */
  static int write(CanFrame frame, byte[] target, int offset) {
    int end = offset;
    target[end++] = EXTENDED;
    end = writeDigits(frame.header(), EXTENDED_DIGITS, target, end);
    target[end++] = (byte) DIGITS.charAt(frame.length());
    end = writeDigits(frame.dataValue(), 2 * frame.length(), target, end);
    target[end++] = END;
    return end;
  }

  private static int writeDigits(long value, int digits, byte[] target, int offset) {
    long rest = value;
    for (int index = offset + digits - 1; index >= offset; index--) {
      target[index] = (byte) DIGITS.charAt((int) (rest & 0xF));
      rest >>>= 4;
    }
    return offset + digits;
  }

  private static byte[] ascii(String text) {
    return text.getBytes(StandardCharsets.US_ASCII);
  }
}
