package tappet.sentence;

import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.antlr.v4.runtime.Token;
import tappet.source.Place;

/** Names and their places. */
final class Names {

  private static final Pattern PLAIN = Pattern.compile("[A-Za-z0-9]+(-[A-Za-z0-9]+)*");

  /** The words of the language, each in quotes. */
  private static final Set<String> WORDS =
      IntStream.rangeClosed(0, SentenceLexer.VOCABULARY.getMaxTokenType())
          .mapToObj(SentenceLexer.VOCABULARY::getLiteralName)
          .filter(Objects::nonNull)
          .collect(Collectors.toSet());

  private Names() {}

  /** A name without its quotes. */
  static String name(SentenceParser.NameContext name) {
    var text = name.getText();
    boolean quoted = name.QUOTED() != null;
    return quoted ? text.substring(1, text.length() - 1) : text;
  }

  /** A name as a sentence has it: in quotes unless it is one plain word that means nothing else. */
  static String written(String name) {
    if (PLAIN.matcher(name).matches()
        && !WORDS.contains("'" + name.toLowerCase(Locale.ROOT) + "'")) {
      return name;
    }
    String quote = name.contains("'") ? "\"" : "'";
    return quote + name + quote;
  }

  static Place place(SentenceParser.NameContext name, Place at) {
    return place(name.getStart(), at);
  }

  /** Where a word stands in the file, given where the sentence's first character stands. */
  static Place place(Token word, Place at) {
    return new Place(at.file(), at.line(), at.column() + word.getStartIndex());
  }
}
