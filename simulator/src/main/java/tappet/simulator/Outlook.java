package tappet.simulator;

import java.util.Optional;

/**
 * What an engineer makes of the road ahead.
 *
 * @param speedMetresPerSecond the speed it allows at this moment
 * @param signalAtStop the signal ahead that the train must stop at, if one is in sight
 * @param endOfTrack whether the end of track is in sight
 * @param trainAhead whether the train stops short of another one
 * @param metresToCoupling how far it is to what the train couples to; farther than anything where
 *     there is nothing
 */
record Outlook(
    double speedMetresPerSecond,
    Optional<String> signalAtStop,
    boolean endOfTrack,
    boolean trainAhead,
    double metresToCoupling) {

  private Outlook(double speed, Optional<String> signalAtStop, boolean endOfTrack, boolean train) {
    this(speed, signalAtStop, endOfTrack, train, Double.POSITIVE_INFINITY);
  }

  /** Nothing ahead but the speed the train may have where it is. */
  static Outlook open(double speedMetresPerSecond) {
    return new Outlook(speedMetresPerSecond, Optional.empty(), false, false);
  }

  /** Not faster than this, either. */
  Outlook slowTo(double speed) {
    return new Outlook(
        Math.min(speed, speedMetresPerSecond),
        signalAtStop,
        endOfTrack,
        trainAhead,
        metresToCoupling);
  }

  Outlook stopAt(String signal) {
    return new Outlook(speedMetresPerSecond, Optional.of(signal), false, false);
  }

  Outlook stopAtEndOfTrack() {
    return new Outlook(speedMetresPerSecond, Optional.empty(), true, false);
  }

  Outlook stopBehindTrain() {
    return new Outlook(speedMetresPerSecond, Optional.empty(), false, true);
  }

  Outlook coupleIn(double metres) {
    return new Outlook(speedMetresPerSecond, Optional.empty(), false, false, metres);
  }

  /** Whether the road ends in a stop as far as can be seen. */
  boolean stops() {
    return signalAtStop.isPresent() || endOfTrack || trainAhead;
  }
}
