package tappet.sentence;

import java.util.Optional;
import java.util.function.Function;
import org.antlr.v4.runtime.CharStreams;
import org.antlr.v4.runtime.CommonTokenStream;
import org.antlr.v4.runtime.misc.ParseCancellationException;
import tappet.source.Place;
import tappet.source.Problems;

/**
 * Reads sentences. Words are understood in upper and lower case; names are kept as they were
 * written. Bad input never throws: it becomes one problem at the word that does not fit.
 */
public final class Sentences {

  /** The longest sentence that is read, in characters. */
  public static final int LENGTH_MAX = 1_000;

  /** Bounds the recursion of parser and reader; a sentence for people has two or three. */
  static final int NESTING_MAX = 40;

  private Sentences() {}

  /**
   * Reads a condition, for example {@code section tilling-w is clear and not switch t1 is reverse}.
   *
   * @param text the sentence
   * @param at where its first character stands
   * @param problems where a mistake is noted
   */
  public static Optional<Condition> condition(String text, Place at, Problems problems) {
    return read(
        text,
        at,
        problems,
        parser -> new ConditionReader(at, problems).visit(parser.conditionAlone()));
  }

  /**
   * Reads a command, for example {@code line t2e to t4e}.
   *
   * @param text the sentence
   * @param at where its first character stands
   * @param problems where a mistake is noted
   */
  public static Optional<Command> command(String text, Place at, Problems problems) {
    return read(
        text, at, problems, parser -> new CommandReader(at, problems).visit(parser.commandAlone()));
  }

  /**
   * Reads something that befalls the railroad, for example {@code section tilling-w reports clear}.
   *
   * @param text the sentence
   * @param at where its first character stands
   * @param problems where a mistake is noted
   */
  public static Optional<Happening> happening(String text, Place at, Problems problems) {
    return read(
        text,
        at,
        problems,
        parser -> new HappeningReader(at, problems).visit(parser.happeningAlone()));
  }

  /**
   * Reads what a scenario expects: a condition that may speak of trains, of lamps on the fascia, of
   * bolts and of alarms as well, for example {@code train 'Extra 41' waits at t2e}.
   *
   * @param text the sentence
   * @param at where its first character stands
   * @param problems where a mistake is noted
   */
  public static Optional<Condition> expectation(String text, Place at, Problems problems) {
    return read(
        text,
        at,
        problems,
        parser -> new ConditionReader(at, problems).visit(parser.expectationAlone()));
  }

  private static <T> Optional<T> read(
      String text, Place at, Problems problems, Function<SentenceParser, T> reader) {
    if (text.length() > LENGTH_MAX) {
      problems.add(
          at,
          "the sentence has %,d characters".formatted(text.length()),
          "the most that is read is %,d".formatted(LENGTH_MAX));
      return Optional.empty();
    }
    var words = new CommonTokenStream(new SentenceLexer(CharStreams.fromString(text)));
    return tooNested(words, at, problems) ? Optional.empty() : parsed(words, at, problems, reader);
  }

  private static boolean tooNested(CommonTokenStream words, Place at, Problems problems) {
    words.fill();
    var deepest =
        words.getTokens().stream()
            .filter(
                word ->
                    word.getType() == SentenceParser.NOT || word.getType() == SentenceParser.OPEN)
            .skip(NESTING_MAX)
            .findFirst();
    deepest.ifPresent(
        word ->
            problems.add(
                Names.place(word, at),
                "the sentence has more than %d 'not' and '('".formatted(NESTING_MAX),
                "split it"));
    return deepest.isPresent();
  }

  private static <T> Optional<T> parsed(
      CommonTokenStream words, Place at, Problems problems, Function<SentenceParser, T> reader) {
    var parser = new SentenceParser(words);
    parser.removeErrorListeners();
    parser.setErrorHandler(new FirstMistake(at, problems));
    try {
      return Optional.of(reader.apply(parser));
    } catch (ParseCancellationException noted) {
      return Optional.empty();
    }
  }
}
