package tappet.bridge.record;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What a log of frames cannot tell, as remarks in it: {@code # (1436509052.249713) up
 * connection="hub" asked="yes"}. Tools for such logs pass over every line that does not begin with
 * a parenthesis, but stop at one of 398 bytes or more (tried with can-utils 2020.11), so that a
 * long note goes on in lines of its own, which begin with {@value #GOES_ON}.
 */
final class NoteText {

  static final String BEGINS = "# (";
  static final String GOES_ON = "#+ ";

  /** Well below what tools take, with what a line begins with. */
  private static final int BYTES_IN_A_LINE_MAX = 300;

  /** In UTF-8. */
  private static final int BYTES_OF_A_LETTER_MAX = 4;

  private static final String ESCAPED = "\\\"\n\r";
  private static final String ESCAPES = "\\\"nr";

  private NoteText() {}

  /**
   * What a note says, before anybody has asked what it means.
   *
   * @param fields each value under its key
   */
  record Note(long timeUs, String word, Map<String, String> fields) {}

  /** Says what is wrong with a note, and where. */
  static final class Malformed extends Exception {
    private static final long serialVersionUID = 1;

    private final int column;

    Malformed(int column, String wrong) {
      super(wrong, null, false, false);
      this.column = column;
    }

    /** The column in the whole note, from 1. */
    int column() {
      return column;
    }
  }

  /** The lines of a note, without their ends. */
  static List<String> write(Note note) {
    StringBuilder text = new StringBuilder("# ");
    FrameLogText.writeTime(text, note.timeUs()).append(' ').append(note.word());
    note.fields()
        .forEach(
            (key, value) ->
                text.append(' ').append(key).append("=\"").append(escaped(value)).append('"'));
    return lines(text.toString());
  }

  private static String escaped(String value) {
    StringBuilder text = new StringBuilder(value.length());
    for (int index = 0; index < value.length(); index++) {
      char letter = value.charAt(index);
      int escape = ESCAPED.indexOf(letter);
      if (escape >= 0) {
        text.append('\\').append(ESCAPES.charAt(escape));
      } else {
        text.append(Character.isISOControl(letter) ? ' ' : letter);
      }
    }
    return text.toString();
  }

  private static List<String> lines(String text) {
    List<String> lines = new ArrayList<>();
    for (int from = 0; from < text.length(); ) {
      int end = endOfLine(text, from);
      lines.add((from == 0 ? "" : GOES_ON) + text.substring(from, end));
      from = end;
    }
    return lines;
  }

  /**
   * Whether a line of a note is so long that it was written to go on in another.
   *
   * @param line without {@value #GOES_ON}
   */
  static boolean goesOn(String line) {
    return line.codePoints().map(NoteText::bytes).sum() >= BYTES_IN_A_LINE_MAX;
  }

  private static int endOfLine(String text, int from) {
    int end = from;
    int bytes = 0;
    while (end < text.length() && bytes < BYTES_IN_A_LINE_MAX) {
      int letter = text.codePointAt(end);
      bytes += bytes(letter);
      end += Character.charCount(letter);
    }
    return end;
  }

  /** How many are counted for a letter, on writing and on reading alike. */
  private static int bytes(int letter) {
    return letter < 0x80 ? 1 : BYTES_OF_A_LETTER_MAX;
  }

  /** Reads a whole note, its lines joined without what they begin with but the first. */
  static Note read(String text) throws Malformed {
    int close = Math.max(1, text.indexOf(')'));
    long timeUs = FrameLogText.readTime(text.substring(2, close + 1));
    if (timeUs < 0) {
      throw new Malformed(3, "this is no time such as (1436509052.249713)");
    }
    int word = close + 2;
    int end = word;
    while (end < text.length() && isOfAWord(text.charAt(end))) {
      end++;
    }
    if (word > text.length() || text.charAt(close + 1) != ' ' || end == word) {
      throw new Malformed(close + 2, "a note needs a word behind its time");
    }
    return new Note(timeUs, text.substring(word, end), fields(text, end));
  }

  private static Map<String, String> fields(String text, int from) throws Malformed {
    Map<String, String> fields = new LinkedHashMap<>();
    int at = from;
    while (at < text.length()) {
      int equals = text.indexOf("=\"", at);
      if (text.charAt(at) != ' ' || equals < 0) {
        throw new Malformed(at + 1, "here a note goes on as in: connection=\"hub\"");
      }
      StringBuilder value = new StringBuilder();
      int end = value(text, equals + 2, value);
      if (fields.put(text.substring(at + 1, equals), value.toString()) != null) {
        throw new Malformed(at + 2, "this is said twice");
      }
      at = end;
    }
    return fields;
  }

  /**
   * Reads up to the closing quote.
   *
   * @return where the text goes on behind it
   */
  private static int value(String text, int from, StringBuilder value) throws Malformed {
    int at = from;
    while (at < text.length() && text.charAt(at) != '"') {
      char letter = text.charAt(at++);
      if (letter == '\\') {
        int escape = at < text.length() ? ESCAPES.indexOf(text.charAt(at++)) : -1;
        if (escape < 0) {
          throw new Malformed(at, "'\\' is followed by one of \\, \", n and r");
        }
        letter = ESCAPED.charAt(escape);
      }
      value.append(letter);
    }
    if (at >= text.length()) {
      throw new Malformed(text.length(), "the closing quote is missing");
    }
    return at + 1;
  }

  private static boolean isOfAWord(char letter) {
    return letter >= 'a' && letter <= 'z';
  }
}
