package tappet.proof;

import java.nio.ByteBuffer;
import java.util.HexFormat;
import tappet.source.Sha256;

/**
 * What is said, in 256 bits: whoever says the same has the same, and nobody else in this world.
 * Fingerprints of many things add up, in whatever order they are said.
 */
record Fingerprint(long one, long two, long three, long four) {

  static final Fingerprint NOTHING = new Fingerprint(0, 0, 0, 0);

  static Fingerprint of(String said) {
    ByteBuffer hash = ByteBuffer.wrap(Sha256.of(said));
    return new Fingerprint(hash.getLong(), hash.getLong(), hash.getLong(), hash.getLong());
  }

  Fingerprint plus(Fingerprint other) {
    return new Fingerprint(
        one + other.one, two + other.two, three + other.three, four + other.four);
  }

  /**
   * The fingerprint of the same in another part: what is asked, beside what is taken for granted.
   */
  Fingerprint inOtherPart() {
    return new Fingerprint(
        Long.rotateLeft(one, 1),
        Long.rotateLeft(two, 1),
        Long.rotateLeft(three, 1),
        Long.rotateLeft(four, 1));
  }

  /** 64 hexadecimal digits. */
  @Override
  public String toString() {
    HexFormat hex = HexFormat.of();
    return hex.toHexDigits(one)
        + hex.toHexDigits(two)
        + hex.toHexDigits(three)
        + hex.toHexDigits(four);
  }
}
