package tappet.sentence;

import org.antlr.v4.runtime.Token;
import tappet.source.Place;

/** Names and their places. */
final class Names {

  private Names() {}

  /** A name without its quotes. */
  static String name(SentenceParser.NameContext name) {
    var text = name.getText();
    boolean quoted = name.QUOTED() != null;
    return quoted ? text.substring(1, text.length() - 1) : text;
  }

  static Place place(SentenceParser.NameContext name, Place at) {
    return place(name.getStart(), at);
  }

  /** Where a word stands in the file, given where the sentence's first character stands. */
  static Place place(Token word, Place at) {
    return new Place(at.file(), at.line(), at.column() + word.getStartIndex());
  }
}
