package tappet.bridge.session;

/** How quick a crew is: a moment for whatever it does, a while before it asks again. */
final class Pace {

  private static final int MOMENT_FROM_S = 1;
  private static final int MOMENT_TO_S = 5;
  private static final int WHILE_FROM_S = 5;
  private static final int WHILE_TO_S = 15;

  private final Chance chance;
  private long readyNs;

  Pace(Chance chance) {
    this.chance = chance;
  }

  boolean isReady(long nowNs) {
    return readyNs <= nowNs;
  }

  void takeAMoment(long nowNs) {
    readyNs = nowNs + chance.secondsNs(MOMENT_FROM_S, MOMENT_TO_S);
  }

  void askLater(long nowNs) {
    readyNs = nowNs + chance.secondsNs(WHILE_FROM_S, WHILE_TO_S);
  }
}
