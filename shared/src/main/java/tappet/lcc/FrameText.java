package tappet.lcc;

import java.nio.charset.StandardCharsets;

/**
 * Writes the text form of a CAN frame: {@code :X}, eight hexadecimal digits of the header, {@code
 * N}, two digits a data byte, {@code ;}, all in upper case, as in {@code :X19A284AAN03CC00;}.
 *
 * <p>No adopted standard gives a grammar of this form; it is known from the examples printed in
 * TN-9.7.4.4 §4, and exactly their shape is written. {@link FrameTextReader} reads more than that.
 */
public final class FrameText {

  /** The most bytes the text of one frame takes. */
  public static final int TEXT_LENGTH_MAX = 28;

  static final char START = ':';
  static final char EXTENDED = 'X';
  static final char DATA_FRAME = 'N';
  static final char END = ';';
  static final int HEADER_DIGITS = 8;

  private static final String DIGITS = "0123456789ABCDEF";

  private FrameText() {}

  /** The text form of {@code frame}. */
  public static String encode(CanFrame frame) {
    byte[] text = new byte[TEXT_LENGTH_MAX];
    return new String(text, 0, write(frame, text, 0), StandardCharsets.US_ASCII);
  }

  /**
   * Writes the text form of {@code frame} into {@code target} from {@code offset} on, without
   * garbage. At most {@link #TEXT_LENGTH_MAX} bytes are written.
   *
   * @return the offset behind the last byte written, which is where the next frame may follow
   * @throws IndexOutOfBoundsException if {@code target} is too short; part of the text may then
   *     have been written
   */
  public static int write(CanFrame frame, byte[] target, int offset) {
    int end = offset;
    target[end++] = START;
    target[end++] = EXTENDED;
    end = writeDigits(frame.header(), HEADER_DIGITS, target, end);
    target[end++] = DATA_FRAME;
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
}
