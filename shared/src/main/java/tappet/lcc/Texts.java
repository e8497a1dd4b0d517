package tappet.lcc;

import static java.nio.charset.StandardCharsets.UTF_8;

/** Texts in memory and messages: UTF-8, closed by a zero byte (TN-9.7.0.2 §2.5). */
public final class Texts {

  private Texts() {}

  /**
   * The text up to the first zero byte, cut so that it has at most {@code lengthMax} bytes. Bytes
   * that are no UTF-8 read as {@code ?}.
   */
  public static String utf8(Bytes content, int lengthMax) {
    String text = new String(content.toArray(), UTF_8).replace('\uFFFD', '?');
    int zero = text.indexOf('\0');
    return cut(zero < 0 ? text : text.substring(0, zero), lengthMax);
  }

  /** Whole characters only. */
  private static String cut(String text, int lengthMax) {
    String cut = text;
    while (cut.getBytes(UTF_8).length > lengthMax) {
      cut = cut.substring(0, cut.offsetByCodePoints(cut.length(), -1));
    }
    return cut;
  }
}
