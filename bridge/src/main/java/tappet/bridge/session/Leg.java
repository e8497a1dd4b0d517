package tappet.bridge.session;

/** A move that a train is making, or has been given. */
final class Leg {

  private final Move move;
  private final Stand from;
  private final long givenNs;
  private boolean entered;
  private boolean toldToTurn;
  private boolean halted;
  private boolean givenUp;
  private long askedNs;

  Leg(Move move, Stand from, long givenNs) {
    this.move = move;
    this.from = from;
    this.givenNs = givenNs;
    this.askedNs = givenNs;
  }

  Move move() {
    return move;
  }

  Stand from() {
    return from;
  }

  long givenNs() {
    return givenNs;
  }

  /** Whether the train's head is on the way of this move. */
  boolean isEntered() {
    return entered;
  }

  void enter() {
    entered = true;
  }

  boolean isToldToTurn() {
    return toldToTurn;
  }

  void tellToTurn() {
    toldToTurn = true;
  }

  boolean isHalted() {
    return halted;
  }

  void halt() {
    halted = true;
  }

  /** Whether its route has been cancelled, and is to be gone before anything else is done. */
  boolean isGivenUp() {
    return givenUp;
  }

  void giveUp() {
    givenUp = true;
  }

  /** When its route was last asked for. */
  long askedNs() {
    return askedNs;
  }

  void ask(long nowNs) {
    askedNs = nowNs;
  }
}
