package tappet.proof;

import tappet.network.Stepper;
import tappet.network.Timer;

/** How a story begins. */
public enum Beginning {
  /** Everything has been heard, everything is clear, and every time has run. */
  AT_REST("Everything is heard, clear and at rest."),
  /** Everything has been heard and everything is clear; the time since the start still runs. */
  JUST_STARTED("Everything is heard and clear; the time since the start still runs.");

  /** More rounds of times running out than any chain of them needs. */
  private static final int ROUNDS_MAX = 20;

  private final String words;

  Beginning(String words) {
    this.words = words;
  }

  /** What is so when the story begins, in plain words. */
  public String words() {
    return words;
  }

  /** Brings a network that has not been stepped yet into that state. */
  Stepper of(Happenings happenings, Stepper stepper) {
    happenings.begin(stepper);
    stepper.step((variable, value) -> {});
    if (this == AT_REST) {
      letTimesRunOut(stepper);
    }
    return stepper;
  }

  private static void letTimesRunOut(Stepper stepper) {
    boolean oneRan = true;
    for (int round = 0; round < ROUNDS_MAX && oneRan; round++) {
      oneRan = false;
      for (Timer timer : stepper.network().timers()) {
        if (timer.isRunning(stepper)) {
          stepper.pulse(timer.runsOut());
          stepper.step((variable, value) -> {});
          oneRan = true;
        }
      }
    }
  }
}
