package tappet.network;

import java.time.Duration;

/**
 * A time that the network asks for. Whoever steps the network pulses {@code runsOut} when {@code
 * running} has been true for {@code duration} without a break; {@code hasRun} then stays true until
 * {@code running} falls.
 *
 * @param running asks for the time while true
 * @param runsOut the pulse that tells the network
 * @param hasRun the latch that remembers it
 * @param duration above zero
 */
public record Timer(Variable running, Variable runsOut, Variable hasRun, Duration duration) {

  /** Whether the time has been asked for and has not run yet. */
  public boolean isRunning(Stepper stepper) {
    return stepper.value(running) && !stepper.value(hasRun);
  }
}
