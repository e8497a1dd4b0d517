package tappet.sentence;

import java.util.Optional;
import org.antlr.v4.runtime.misc.ParseCancellationException;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * The names of people and what they say, which are shown on pages and kept in files: one line of
 * text each, and not without end.
 */
final class People {

  private static final int LENGTH_MAX = 100;

  private final Place at;
  private final Problems problems;

  People(Place at, Problems problems) {
    this.at = at;
    this.problems = problems;
  }

  String holder(SentenceParser.NameContext name) {
    return line("a name", name);
  }

  Optional<String> reason(SentenceParser.ReasonContext reason) {
    return Optional.ofNullable(reason).map(given -> line("a reason", given.name()));
  }

  /** What is wrong has been noted when this ends early. */
  private String line(String what, SentenceParser.NameContext written) {
    String line = Names.name(written).strip();
    if (line.isEmpty()) {
      throw wrong(written, what + " is more than blanks", "write it between the quotes");
    }
    if (line.length() > LENGTH_MAX) {
      throw wrong(
          written,
          what + " of %d characters is too long".formatted(line.length()),
          "the most is %d".formatted(LENGTH_MAX));
    }
    if (line.codePoints().anyMatch(People::breaksTheLine)) {
      throw wrong(written, what + " stands on one line", "take the odd characters out");
    }
    return line;
  }

  private static boolean breaksTheLine(int character) {
    return switch (Character.getType(character)) {
      case Character.CONTROL,
          Character.LINE_SEPARATOR,
          Character.PARAGRAPH_SEPARATOR,
          Character.FORMAT,
          Character.SURROGATE ->
          true;
      default -> false;
    };
  }

  private ParseCancellationException wrong(
      SentenceParser.NameContext written, String wrong, String meant) {
    problems.add(Names.place(written, at), wrong, meant);
    return new ParseCancellationException(wrong);
  }
}
