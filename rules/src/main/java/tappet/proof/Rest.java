package tappet.proof;

import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Timer;

/** A railroad at rest: everything has been heard, everything is clear, every time has run. */
final class Rest {

  /** More rounds of times running out than any chain of them needs. */
  private static final int ROUNDS_MAX = 20;

  private Rest() {}

  static Stepper of(Network network, Happenings happenings) {
    Stepper stepper = new Stepper(network);
    happenings.begin(stepper);
    stepper.step((variable, value) -> {});
    for (int round = 0; round < ROUNDS_MAX && letOneTimeRunOut(stepper); round++) {
      // each time may start another one
    }
    return stepper;
  }

  private static boolean letOneTimeRunOut(Stepper stepper) {
    boolean ran = false;
    for (Timer timer : stepper.network().timers()) {
      if (stepper.value(timer.running()) && !stepper.value(timer.hasRun())) {
        stepper.pulse(timer.runsOut());
        stepper.step((variable, value) -> {});
        ran = true;
      }
    }
    return ran;
  }
}
