package tappet.lcc;

import java.util.Locale;
import java.util.OptionalLong;
import java.util.regex.Pattern;

/** The dotted form of identifiers, {@code 02.01.0D.12.34.56} (TN-9.7.0.2 §3). */
final class DottedHex {

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
    StringBuilder text = new StringBuilder();
    for (int index = bytes - 1; index >= 0; index--) {
      text.append("%02X".formatted((value >>> (8 * index)) & 0xFF));
      if (index > 0) {
        text.append('.');
      }
    }
    return text.toString().toUpperCase(Locale.ROOT);
  }
}
