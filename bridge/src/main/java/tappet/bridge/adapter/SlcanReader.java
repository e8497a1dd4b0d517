package tappet.bridge.adapter;

import tappet.lcc.CanFrame;

/**
 * Reads what an SLCAN adapter says, however the stream is cut: frames, answers and status, each
 * ended by a carriage return, and the bell for a command refused. From memory, see {@link
 * SlcanText}.
 *
 * <p>The letters that start a frame occur nowhere else in one, so a frame whose end got lost costs
 * only itself. Lines too long to be anything are skipped whole. Not for several threads at once.
 */
final class SlcanReader {

  /** Who is told what was read. */
  interface Listener {

    /** An extended data frame. */
    void frame(CanFrame frame);

    /** A whole frame of a kind that LCC does not use: 11-bit or remote (S-9.7.2.1 §4). */
    void frameOfOtherKind();

    /** The adapter refused a command. */
    void bell();

    /** The adapter's status flags, 8 bits. */
    void status(int flags);

    /** Bytes that mean nothing known, one line at most. */
    void garbage(int bytes);
  }

  private static final int LINE_MAX = 32;

  private final Listener listener;
  private final char[] line = new char[LINE_MAX];
  private int length;
  private int bytesTooMany;

  SlcanReader(Listener listener) {
    this.listener = listener;
  }

  void feed(byte[] bytes, int offset, int count) {
    for (int index = offset; index < offset + count; index++) {
      feed((char) (bytes[index] & 0xFF));
    }
  }

  private void feed(char symbol) {
    switch (symbol) {
      case SlcanText.END -> endLine();
      case SlcanText.BELL -> {
        dropLine();
        listener.bell();
      }
      case '\n' -> {
        // Some adapters end a line with both.
      }
      case SlcanText.EXTENDED,
          SlcanText.STANDARD,
          SlcanText.EXTENDED_REMOTE,
          SlcanText.STANDARD_REMOTE -> {
        dropLine();
        append(symbol);
      }
      default -> append(symbol);
    }
  }

  private void append(char symbol) {
    if (length < LINE_MAX) {
      line[length++] = symbol;
    } else {
      bytesTooMany++;
    }
  }

  private void dropLine() {
    if (length > 0) {
      listener.garbage(length + bytesTooMany);
    }
    startLine();
  }

  private void startLine() {
    length = 0;
    bytesTooMany = 0;
  }

  private void endLine() {
    if (bytesTooMany > 0 || !isUnderstood()) {
      listener.garbage(length + bytesTooMany);
    }
    startLine();
  }

  private boolean isUnderstood() {
    if (length == 0) {
      return true; // A command was taken.
    }
    return switch (line[0]) {
      case SlcanText.EXTENDED -> readExtended();
      case SlcanText.STANDARD -> readOther(SlcanText.STANDARD_DIGITS, true);
      case SlcanText.EXTENDED_REMOTE -> readOther(SlcanText.EXTENDED_DIGITS, false);
      case SlcanText.STANDARD_REMOTE -> readOther(SlcanText.STANDARD_DIGITS, false);
      case SlcanText.STATUS -> readStatus();
      case 'z', 'Z' -> length == 1; // A frame was taken.
      case 'V', 'v', 'N' -> true; // Version and serial number, as some tell when opened.
      default -> false;
    };
  }

  private boolean readExtended() {
    if (!isFrame(SlcanText.EXTENDED_DIGITS, true)) {
      return false;
    }
    long header = number(1, SlcanText.EXTENDED_DIGITS);
    int dataLength = Character.digit(line[1 + SlcanText.EXTENDED_DIGITS], 16);
    if (header > CanFrame.HEADER_MAX) {
      return false;
    }
    long data = number(2 + SlcanText.EXTENDED_DIGITS, 2 * dataLength);
    listener.frame(CanFrame.of((int) header, dataLength, data));
    return true;
  }

  private boolean readOther(int headerDigits, boolean hasData) {
    boolean isFrame = isFrame(headerDigits, hasData);
    if (isFrame) {
      listener.frameOfOtherKind();
    }
    return isFrame;
  }

  /** Header, length and data, all whole, with or without a time stamp behind them. */
  private boolean isFrame(int headerDigits, boolean hasData) {
    int dataAt = 2 + headerDigits;
    if (length < dataAt || !areDigits(1)) {
      return false;
    }
    int dataLength = Character.digit(line[dataAt - 1], 16);
    int end = dataAt + (hasData ? 2 * dataLength : 0);
    return dataLength <= CanFrame.LENGTH_MAX
        && (length == end || length == end + SlcanText.STAMP_DIGITS);
  }

  private boolean readStatus() {
    boolean isWhole = length == 3 && areDigits(1);
    if (isWhole) {
      listener.status((int) number(1, 2));
    }
    return isWhole;
  }

  private boolean areDigits(int from) {
    for (int index = from; index < length; index++) {
      if (Character.digit(line[index], 16) < 0) {
        return false;
      }
    }
    return true;
  }

  private long number(int from, int digits) {
    long number = 0;
    for (int index = from; index < from + digits; index++) {
      number = (number << 4) | Character.digit(line[index], 16);
    }
    return number;
  }
}
