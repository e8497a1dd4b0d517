package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.Optional;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * What a device with two states is detected in: one, the other, or neither where nothing is known.
 * Neither state follows from the absence of the other (49 CFR 236.5).
 */
final class Indication {

  private final Variable known;
  private final Variable one;
  private final Variable other;

  /**
   * @param role how its variables begin, such as {@code opening doorway: }
   * @param name the device in sentences
   * @param oneState its first state, such as {@code closed}
   * @param otherState its other state
   */
  Indication(String role, String name, String oneState, String otherState, NetworkBuilder network) {
    known =
        network.input(
            role + "known " + oneState,
            Words.fact(
                name + " reports",
                name + " has not reported whether it is " + oneState + " or " + otherState));
    one =
        network.input(
            role + "detected " + oneState,
            Words.fact(name + " is " + oneState, name + " is not " + oneState));
    other =
        network.input(
            role + "detected " + otherState,
            Words.fact(name + " is " + otherState, name + " is not " + otherState));
  }

  /** It is known to be in its first state. */
  Expression isOne() {
    return all(is(known), not(other));
  }

  /** It is known to be in its other state. */
  Expression isOther() {
    return all(is(known), not(one));
  }

  /** It is known to be in the first state, or in the other one. */
  Expression isOne(boolean first) {
    return first ? isOne() : isOther();
  }

  /** Something is known of it. */
  Variable known() {
    return known;
  }

  /** Lays on what is detected; empty where nothing is known. */
  void lay(Optional<Boolean> isOne, Stepper stepper) {
    stepper.set(known, isOne.isPresent());
    stepper.set(one, isOne.equals(Optional.of(true)));
    stepper.set(other, isOne.equals(Optional.of(false)));
  }

  /** Whether it is in its first state now; empty where nothing is known. */
  Optional<Boolean> now(Stepper stepper) {
    return stepper.value(known) ? Optional.of(stepper.value(one)) : Optional.empty();
  }

  /** What it is now, in words. */
  String words(Stepper stepper) {
    if (!stepper.value(known)) {
      return known.words().whenFalse();
    }
    return (stepper.value(one) ? one : other).words().whenTrue();
  }
}
