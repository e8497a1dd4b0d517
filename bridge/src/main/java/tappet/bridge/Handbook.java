package tappet.bridge;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The handbook's list of messages ({@code config/handbook/messages.md}), to look one up. */
final class Handbook {

  private static final String MESSAGES = "/handbook/messages.md";

  /** A row of one of its tables. */
  private static final Pattern ROW = Pattern.compile("\\| ([A-Z][0-9]+) \\|(.*)\\|");

  private static final Pattern WORDING = Pattern.compile("`([^`]+)`");

  /** What stands for a name, a number or a reason. */
  private static final Pattern GAP = Pattern.compile("\\b[A-Z]+\\b|…");

  /** Less than that fits anything. */
  private static final int LETTERS_MIN = 8;

  private final List<Entry> entries;

  private Handbook(List<Entry> entries) {
    this.entries = entries;
  }

  /** The list that belongs to this program. */
  static Handbook read() {
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(
                Handbook.class.getResourceAsStream(MESSAGES), StandardCharsets.UTF_8))) {
      return new Handbook(lines.lines().flatMap(line -> entry(line).stream()).toList());
    } catch (IOException e) {
      throw new UncheckedIOException("the program's own list of messages cannot be read", e);
    }
  }

  private static Optional<Entry> entry(String line) {
    return ROW.matcher(line)
        .results()
        .findFirst()
        .map(row -> new Entry(row.group(1), cells(row.group(2))));
  }

  private static List<String> cells(String row) {
    return Stream.of(row.split("\\|")).map(String::strip).toList();
  }

  /**
   * A message.
   *
   * @param cells how it reads, and then what it means and what to do; of a line of the log its
   *     level stands before
   */
  record Entry(String id, List<String> cells) {

    /** How the message may read, with gaps; all of it, and without what it says to do. */
    Stream<String> wordings() {
      return WORDING
          .matcher(wordingCell())
          .results()
          .map(span -> span.group(1))
          .flatMap(words -> Stream.of(words, words.split(";", 2)[0]));
    }

    private String wordingCell() {
      return cells.stream().filter(cell -> cell.contains("`")).findFirst().orElse("");
    }

    /** All that is told of it, a line each. */
    List<String> lines() {
      return Stream.concat(Stream.of(id), cells.stream()).map(Entry::plain).toList();
    }

    private static String plain(String markdown) {
      return markdown.replace("`", "").replaceAll("\\[([^]]*)]\\([^)]*\\)", "$1");
    }

    /** How many letters of its best wording stand in a text, one after the other; 0 for none. */
    private int lettersIn(String text) {
      return wordings()
          .filter(words -> reads(words, text))
          .mapToInt(Handbook::letters)
          .max()
          .orElse(0);
    }

    /** How many words it shares with a text. */
    private long wordsIn(Set<String> text) {
      Set<String> own = words(wordingCell());
      own.retainAll(text);
      return own.size();
    }
  }

  /** The message of an id, such as A14. */
  Optional<Entry> of(String id) {
    return entries.stream().filter(entry -> entry.id().equalsIgnoreCase(id)).findFirst();
  }

  /** The message that a text has in it, wherever: the one that says most of it. */
  Optional<Entry> readIn(String text) {
    return entries.stream()
        .max(Comparator.comparingInt(entry -> entry.lettersIn(text)))
        .filter(entry -> entry.lettersIn(text) >= LETTERS_MIN);
  }

  /** Those that share most words with a text, the nearest first. */
  List<Entry> near(String text, int limit) {
    Set<String> said = words(text);
    return entries.stream()
        .filter(entry -> entry.wordsIn(said) > 1)
        .sorted(Comparator.comparing((Entry entry) -> entry.wordsIn(said)).reversed())
        .limit(limit)
        .toList();
  }

  private static boolean reads(String wording, String text) {
    String fixed = GAP.splitAsStream(wording).map(Pattern::quote).collect(Collectors.joining(".+"));
    return Pattern.compile(fixed, Pattern.CASE_INSENSITIVE).matcher(text).find();
  }

  private static int letters(String wording) {
    return (int)
        GAP.splitAsStream(wording).flatMapToInt(String::chars).filter(Character::isLetter).count();
  }

  private static Set<String> words(String text) {
    return Pattern.compile("\\p{L}{4,}")
        .matcher(text.toLowerCase(Locale.ROOT))
        .results()
        .map(MatchResult::group)
        .collect(Collectors.toCollection(TreeSet::new));
  }
}
