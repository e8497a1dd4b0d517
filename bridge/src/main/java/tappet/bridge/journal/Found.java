package tappet.bridge.journal;

/**
 * A line of the journal that has been read.
 *
 * @param seq its number
 * @param clocks when it was; what happened stands in the row
 */
record Found(long seq, int session, Clocks clocks, Row row) {

  /**
   * As in {@link Line}.
   *
   * @param minute {@link Line#NO_MINUTE} where none is known
   */
  record Clocks(long boxUs, long wallUs, int minute) {}
}
