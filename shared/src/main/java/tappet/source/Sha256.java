package tappet.source;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 (FIPS 180-4): what tells a text from all others. */
public final class Sha256 {

  private Sha256() {}

  /** The 32 bytes that a text in UTF-8 comes to. */
  public static byte[] of(String text) {
    try {
      return MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }

  /** The same as 64 hexadecimal digits. */
  public static String digits(String text) {
    return HexFormat.of().formatHex(of(text));
  }
}
