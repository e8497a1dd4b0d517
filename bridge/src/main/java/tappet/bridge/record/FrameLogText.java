package tappet.bridge.record;

import java.util.HexFormat;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.lcc.CanFrame;

/**
 * The line for a frame in a log of Linux' can-utils: {@code (1436509052.249713) can0
 * 1B4A3F12#0102}; seconds and microseconds, the name of the bus, the header, the data. From memory
 * of those public tools; the tests have them read what is written here.
 */
public final class FrameLogText {

  /** The most bytes a line takes, with its end. */
  static final int LINE_MAX = 80;

  /** The most letters a bus may be named with, as on Linux. */
  static final int BUS_NAME_MAX = 15;

  private static final Pattern TIME = Pattern.compile("\\((\\d{1,12})\\.(\\d{6})\\)");
  private static final Pattern LINE =
      Pattern.compile(
          "\\((\\d{1,12})\\.(\\d{6})\\) +\\S+ +([0-9A-Fa-f]{8})#((?:[0-9A-Fa-f]{2}){0,8})(?: [RT])?");

  /** What a line ends with that tells of a frame which was sent, and not received. */
  static final String SENT = " T";

  private static final Pattern BUS_NAME = Pattern.compile("[A-Za-z0-9_.-]{1," + BUS_NAME_MAX + "}");
  private static final HexFormat HEX = HexFormat.of().withUpperCase();
  private static final long SECOND_US = 1_000_000L;

  private FrameLogText() {}

  /** Whether a bus may have this name in a log. */
  static boolean isBusName(String name) {
    return BUS_NAME.matcher(name).matches();
  }

  /** The line for a frame, without a line end. */
  public static String write(LoggedFrame logged, String bus) {
    CanFrame frame = logged.frame();
    StringBuilder line = new StringBuilder(LINE_MAX);
    writeTime(line, logged.timeUs()).append(' ').append(bus).append(' ');
    line.append(HEX.toHexDigits(frame.header())).append('#');
    if (frame.length() > 0) {
      line.append(HEX.toHexDigits(frame.dataValue(), 2 * frame.length()));
    }
    return line.toString();
  }

  /** Writes a time as logs have it: {@code (1436509052.249713)}. */
  static StringBuilder writeTime(StringBuilder line, long timeUs) {
    padded(line.append('('), timeUs / SECOND_US, 10).append('.');
    return padded(line, timeUs % SECOND_US, 6).append(')');
  }

  /** Reads such a time, in microseconds; -1 if it is none. */
  static long readTime(String text) {
    Matcher parts = TIME.matcher(text);
    return parts.matches() ? timeUs(parts.group(1), parts.group(2)) : -1;
  }

  private static long timeUs(String seconds, String microseconds) {
    return Long.parseLong(seconds) * SECOND_US + Long.parseLong(microseconds);
  }

  private static StringBuilder padded(StringBuilder line, long number, int digits) {
    String text = Long.toString(number);
    return line.append("0".repeat(Math.max(0, digits - text.length()))).append(text);
  }

  /**
   * The frame a line tells of; empty if it tells of none that LCC uses: not of 29-bit data frames
   * but 11-bit ones, remote, error or longer ones, or of nothing at all.
   */
  public static Optional<LoggedFrame> read(String line) {
    Matcher parts = LINE.matcher(line.strip());
    if (!parts.matches()) {
      return Optional.empty();
    }
    long header = Long.parseLong(parts.group(3), 16);
    if (header > CanFrame.HEADER_MAX) {
      return Optional.empty();
    }
    String data = parts.group(4);
    long value = data.isEmpty() ? 0 : Long.parseUnsignedLong(data, 16);
    long timeUs = timeUs(parts.group(1), parts.group(2));
    CanFrame frame = CanFrame.of((int) header, data.length() / 2, value);
    return Optional.of(new LoggedFrame(timeUs, frame));
  }
}
