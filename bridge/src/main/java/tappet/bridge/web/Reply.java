package tappet.bridge.web;

import java.util.Locale;

/**
 * What the desk answers.
 *
 * @param kind how it went
 * @param text lines for people
 */
public record Reply(Kind kind, String text) {

  /** How a question or a sentence fared, with its HTTP status (RFC 9110 §15). */
  public enum Kind {
    DONE(200),
    NOT_UNDERSTOOD(400),
    UNKNOWN(404),
    REFUSED(409),
    BUSY(503);

    /** As it is told. */
    public String word() {
      return name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    private final int status;

    Kind(int status) {
      this.status = status;
    }

    /** The status of the answer. */
    public int status() {
      return status;
    }
  }
}
