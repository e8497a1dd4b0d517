package tappet.bridge.view;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

/**
 * What is so of one thing, by short words in the order in which they are told. A value is a text, a
 * number, true or false, or a list of texts.
 */
public record Facts(Map<String, Object> byWord) {

  public Facts {
    byWord = Collections.unmodifiableMap(new LinkedHashMap<>(byWord));
  }

  /** No facts yet. */
  static Facts none() {
    return new Facts(Map.of());
  }

  /** The one fact that all things of a kind have: what they are. */
  static Facts is(String state) {
    return none().with("is", state);
  }

  Facts with(String word, String text) {
    return and(word, text);
  }

  Facts with(String word, double number) {
    return and(word, number);
  }

  Facts with(String word, long number) {
    return and(word, number);
  }

  Facts with(String word, List<String> texts) {
    return and(word, List.copyOf(texts));
  }

  Facts with(String word, Optional<String> text) {
    return text.map(known -> and(word, known)).orElse(this);
  }

  Facts with(String word, OptionalLong number) {
    return number.isPresent() ? and(word, number.getAsLong()) : this;
  }

  /** The word stands only where it is so. */
  Facts where(String word, boolean so) {
    return so ? and(word, true) : this;
  }

  /** Whether this text is told by a word. */
  boolean says(String word, String text) {
    return text.equals(byWord.get(word));
  }

  /** The texts of the list that a word tells; none where it tells none. */
  List<String> texts(String word) {
    return ((List<?>) byWord.getOrDefault(word, List.of()))
        .stream().map(String.class::cast).toList();
  }

  private Facts and(String word, Object value) {
    Map<String, Object> more = new LinkedHashMap<>(byWord);
    more.put(word, value);
    return new Facts(more);
  }
}
