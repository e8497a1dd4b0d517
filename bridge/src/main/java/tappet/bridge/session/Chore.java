package tappet.bridge.session;

import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;

/**
 * One thing a crew does, after the one before it.
 *
 * @param words what it is about, for the journal; empty where there is nothing to tell
 * @param attempt tries it; empty if it is done, else why not
 * @param asks whether somebody is asked, so that it is not tried again at once
 */
record Chore(String words, Supplier<Optional<String>> attempt, boolean asks) {

  static Chore ask(String words, Supplier<Optional<String>> attempt) {
    return new Chore(words, attempt, true);
  }

  static Chore await(String whyNot, BooleanSupplier isSo) {
    return new Chore("", () -> isSo.getAsBoolean() ? Optional.empty() : Optional.of(whyNot), false);
  }
}
