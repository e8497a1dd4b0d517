package tappet.bridge.session;

import java.util.List;

/** Judges what would become of the trains on the track. */
@FunctionalInterface
interface Foresight {

  /** Sees no farther than the next signal. */
  Foresight NONE = trains -> true;

  /**
   * Where a train is in its run, or will be once its moves are made.
   *
   * @param train its number in the list, each once
   * @param stand where it stands
   * @param goal what it has to do next, the number of its goals for one that is through
   * @param beginsAgain whether one that is through can be sent on its next run
   * @param isLifted whether it is taken off the track once it is through
   */
  record Claim(
      int train,
      Itinerary itinerary,
      Stand stand,
      int goal,
      boolean beginsAgain,
      boolean isLifted) {}

  /** Whether there is an order in which every train still gets to the end of its run. */
  boolean everyTrainArrives(List<Claim> trains);
}
