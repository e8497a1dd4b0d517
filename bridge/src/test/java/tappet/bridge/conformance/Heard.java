package tappet.bridge.conformance;

/**
 * A frame the tester has heard.
 *
 * @param header eight hexadecimal digits
 * @param data two hexadecimal digits a byte
 * @param atNs when, on the clock of {@link System#nanoTime}
 */
record Heard(String header, String data, long atNs) {

  /** The alias it came from. */
  String source() {
    return header.substring(5);
  }

  boolean isMessage() {
    return header.charAt(1) >= '8';
  }

  /** The data behind a destination alias. */
  String content() {
    return data.substring(4);
  }

  @Override
  public String toString() {
    return (header + " " + data).strip();
  }
}
