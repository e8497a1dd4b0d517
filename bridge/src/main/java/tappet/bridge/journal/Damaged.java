package tappet.bridge.journal;

/** A journal is damaged: nobody may go on writing in it. */
final class Damaged extends Exception {
  private static final long serialVersionUID = 1;

  Damaged(String what, Throwable cause) {
    super(what, cause);
  }
}
