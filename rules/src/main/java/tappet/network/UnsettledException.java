package tappet.network;

/** A network whose latches go on changing each other: its outputs mean nothing. */
public final class UnsettledException extends RuntimeException {

  private static final long serialVersionUID = 1L;

  UnsettledException(int ticks, Variable latch) {
    super("not settled after " + ticks + " ticks; '" + latch + "' still changes");
  }
}
