package tappet.bridge.journal;

import tappet.source.Sha256;

/**
 * A file that a session ran by.
 *
 * @param name without its folder
 */
public record OwnerFile(String name, String text) {

  /** Enough digits of a digest to tell one file from another. */
  static final int DIGITS_TOLD = 12;

  /** SHA-256 of the text in UTF-8, in hexadecimal digits. */
  String digest() {
    return Sha256.digits(text);
  }

  /** Its name, and enough of its digest to find it again. */
  String named() {
    return name + " " + digest().substring(0, DIGITS_TOLD);
  }
}
