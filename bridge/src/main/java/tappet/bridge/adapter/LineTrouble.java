package tappet.bridge.adapter;

/** Who is told what is wrong with a line on which frames flow all the same; from any thread. */
interface LineTrouble {

  /**
   * Something is wrong.
   *
   * @param what the end of a sentence that begins with the connection's name
   */
  void arises(String what);

  /**
   * It is over.
   *
   * @param beginning how it began as it was told; all that did is over
   */
  void over(String beginning);
}
