package tappet.layout;

import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import tappet.lcc.EventId;

/**
 * How a switch is worked.
 *
 * @param control who throws it
 * @param with the switch it moves together with and takes its orders from; empty where it moves by
 *     itself
 * @param lock its electric lock; there is one where it is thrown by hand when released
 * @param asks the events by which a control beside the track asks for a position; empty where there
 *     is no such control
 * @param assumedAfter without detection: how long after it was sent it is taken to lie there, above
 *     0; else empty
 * @param tries how often it is sent until it counts as out of correspondence, 1 to {@value
 *     #TRIES_MAX}
 * @param derail whether it is a derail: reverse lets trains pass, normal does not, and there is no
 *     normal leg
 */
public record Working(
    Control control,
    Optional<String> with,
    Optional<ElectricLock> lock,
    Map<Position, EventId> asks,
    Optional<Duration> assumedAfter,
    int tries,
    boolean derail) {

  /** More tries than that wear out a motor that does not come. */
  public static final int TRIES_MAX = 9;

  /** Thrown by the dispatcher, detected, by itself. */
  static final Working BY_DISPATCHER = of(Control.DISPATCHER);

  /** Detected, by itself, without lock or further control. */
  static Working of(Control control) {
    return new Working(
        control, Optional.empty(), Optional.empty(), Map.of(), Optional.empty(), 1, false);
  }

  /** The same, thrown by someone else. */
  Working by(Control other) {
    return new Working(other, with, lock, asks, assumedAfter, tries, derail);
  }
}
