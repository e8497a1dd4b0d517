package tappet.bridge.adapter;

/** Who is told that a line came up and broke; called on the hub's event loop. */
interface LineWatcher {

  /** Frames flow. */
  void lineUp();

  /**
   * No frames flow any more, or the line never came up. Told once, at the end.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  void lineDown(String why);

  /** As {@link #lineDown}, but the line was closed in good order, by the peer or by us. */
  default void lineLeft(String why) {
    lineDown(why);
  }
}
