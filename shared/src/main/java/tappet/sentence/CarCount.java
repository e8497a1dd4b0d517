package tappet.sentence;

import org.antlr.v4.runtime.Token;
import org.antlr.v4.runtime.misc.ParseCancellationException;
import tappet.source.Place;
import tappet.source.Problems;

/** How many cars a sentence speaks of. */
final class CarCount {

  private static final int COUNT_MAX = 999;

  private final Place at;
  private final Problems problems;

  CarCount(Place at, Problems problems) {
    this.at = at;
    this.problems = problems;
  }

  /** A number from {@code atLeast}; what is wrong has been noted when this ends early. */
  int of(Token word, int atLeast) {
    String text = word.getText();
    boolean isCount = text.matches("[0-9]{1,3}") && Integer.parseInt(text) >= atLeast;
    if (!isCount) {
      problems.add(
          Names.place(word, at),
          "'%s' is not a number of cars from %d to %d".formatted(text, atLeast, COUNT_MAX),
          "write for example 3");
      throw new ParseCancellationException(text);
    }
    return Integer.parseInt(text);
  }
}
