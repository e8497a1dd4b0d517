package tappet.bridge.journal;

import tappet.source.Sha256;

/**
 * A file that a session ran by.
 *
 * @param name without its folder
 */
public record OwnerFile(String name, String text) {

  /** SHA-256 of the text in UTF-8, in hexadecimal digits. */
  String digest() {
    return Sha256.digits(text);
  }
}
