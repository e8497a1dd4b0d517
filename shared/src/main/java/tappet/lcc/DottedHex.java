package tappet.lcc;

import java.nio.ByteBuffer;
import java.util.HexFormat;
import java.util.OptionalLong;
import java.util.regex.Pattern;

/** The dotted form of identifiers, {@code 02.01.0D.12.34.56} (TN-9.7.0.2 §3). */
final class DottedHex {

  private static final HexFormat DOTTED = HexFormat.ofDelimiter(".").withUpperCase();
  private static final Pattern DOT = Pattern.compile("\\.");
  private static final Pattern BYTE = Pattern.compile("[0-9A-Fa-f]{1,2}");

  private DottedHex() {}

  /** Leading zeros of a byte may be missing in input; anything else is no identifier. */
  static OptionalLong parse(String text, int bytes) {
    String[] parts = DOT.split(text, -1);
    if (parts.length != bytes) {
      return OptionalLong.empty();
    }
    long value = 0;
    for (String part : parts) {
      if (!BYTE.matcher(part).matches()) {
        return OptionalLong.empty();
      }
      value = (value << 8) | Integer.parseInt(part, 16);
    }
    return OptionalLong.of(value);
  }

  static String format(long value, int bytes) {
    byte[] all = ByteBuffer.allocate(Long.BYTES).putLong(value).array();
    return DOTTED.formatHex(all, Long.BYTES - bytes, Long.BYTES);
  }
}
