package tappet.proof.track;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.layout.Signal;

/**
 * What an aspect promises by its name, for the names that rule books agree on (interlocking sheet,
 * C.3 and C.4; common practice): the speed over the way that begins at the signal, and the speed at
 * which the train will be let on at its end.
 *
 * @param here the speed at which the signal is passed; empty for Stop
 * @param beyond the least speed that the next signal must allow; empty where the train is prepared
 *     to stop there
 */
record AspectMeaning(Optional<Speed> here, Optional<Speed> beyond) {

  private static final String SPEED = "(diverging|limited|medium|slow)";
  private static final Pattern CLEAR = Pattern.compile("(?:" + SPEED + "-)?clear");
  private static final Pattern APPROACH =
      Pattern.compile(
          "(?:" + SPEED + "-)?approach(?:-(diverging|limited|medium|slow|restricting))?");

  /** The meaning of an aspect of that name; empty where no rule book known here has it. */
  static Optional<AspectMeaning> of(String aspect) {
    Matcher clear = CLEAR.matcher(aspect);
    Matcher approach = APPROACH.matcher(aspect);
    if (clear.matches()) {
      Speed speed = speed(clear.group(1)).orElse(Speed.LINE);
      return Optional.of(new AspectMeaning(Optional.of(speed), Optional.of(speed)));
    }
    if (approach.matches()) {
      Speed speed = speed(approach.group(1)).orElse(Speed.LINE);
      return Optional.of(new AspectMeaning(Optional.of(speed), speed(approach.group(2))));
    }
    return switch (aspect) {
      case Signal.STOP -> Optional.of(new AspectMeaning(Optional.empty(), Optional.empty()));
      case "restricting" ->
          Optional.of(new AspectMeaning(Optional.of(Speed.RESTRICTED), Optional.empty()));
      case "advance-approach" ->
          Optional.of(new AspectMeaning(Optional.of(Speed.LINE), Optional.of(Speed.LINE)));
      default -> Optional.empty();
    };
  }

  private static Optional<Speed> speed(String word) {
    return Optional.ofNullable(word).flatMap(Speed::of);
  }

  /** Whether a train is told to look out for others on its way: it may be called on to one. */
  boolean isRestricting() {
    return here.equals(Optional.of(Speed.RESTRICTED));
  }

  /** Whether a train may pass it at the speed of the main. */
  boolean isFast() {
    return here.equals(Optional.of(Speed.LINE));
  }

  /** Whether a signal with this meaning lets a train on at that speed. */
  boolean allows(Speed speed) {
    return here.filter(own -> own.atLeast(speed)).isPresent();
  }
}
