package tappet.bridge.session;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/**
 * One thing a crew does, after the one before it.
 *
 * @param attempt tries it; empty if it is done, else why not
 * @param asks whether somebody is asked, so that it takes a moment and is not tried again at once
 */
record Chore(Supplier<Optional<String>> attempt, boolean asks) {

  /** Something is asked for, or done by hand. */
  static Chore ask(Supplier<Optional<String>> attempt) {
    return new Chore(attempt, true);
  }

  /** Something comes about by itself, or is done in no time. */
  static Chore await(BooleanSupplier isSo) {
    return new Chore(
        () -> isSo.getAsBoolean() ? Optional.empty() : Optional.of("it is not so yet"), false);
  }
}
