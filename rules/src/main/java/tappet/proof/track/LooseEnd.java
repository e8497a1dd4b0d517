package tappet.proof.track;

/**
 * Something that a layout and its rules leave open. It need not be wrong: a signal that nobody
 * wants to clear that way does not clear.
 *
 * @param device what it is about, such as {@code signal t2e} or {@code section yard}
 * @param words what is open, in plain words
 * @param certain whether it is known to be so; otherwise there is neither a story nor a proof
 *     either way
 */
public record LooseEnd(String device, String words, boolean certain) {

  /** A line for people. */
  public String text() {
    return words + (certain ? "" : " (not certain: there is neither a story nor a proof)");
  }
}
