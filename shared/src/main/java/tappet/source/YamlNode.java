package tappet.source;

import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/** A piece of an owner's file that knows where it stands. */
public sealed interface YamlNode permits YamlNode.Text, YamlNode.Items, YamlNode.Entries {

  /** Where it starts. */
  Place place();

  /** What it is, in an owner's words: {@code a text}, {@code a list}. */
  String shape();

  /**
   * A word, number or sentence; what it means is for its reader to say.
   *
   * @param value the text without its quotes, empty where nothing was written
   * @param place where it starts, at the quote if it has one
   * @param quoted whether it stands in quotes
   */
  record Text(String value, Place place, boolean quoted) implements YamlNode {

    private static final int SHOWN_MAX = 40;
    private static final Pattern BLANKS = Pattern.compile("\\s+");

    /** Where the first character of {@link #value} stands: behind the quote if there is one. */
    public Place textPlace() {
      return quoted ? new Place(place.file(), place.line(), place.column() + 1) : place;
    }

    /** Whether nothing was written. */
    public boolean blank() {
      return value.isBlank();
    }

    /** The text in quotes for a message: on one line and not too long. */
    public String shown() {
      var line = BLANKS.matcher(value).replaceAll(" ");
      return line.length() <= SHOWN_MAX
          ? "'" + line + "'"
          : "'" + line.substring(0, SHOWN_MAX) + "…'";
    }

    @Override
    public String shape() {
      return "a single value";
    }
  }

  /** A list. */
  record Items(List<YamlNode> items, Place place) implements YamlNode {

    @Override
    public String shape() {
      return "a list";
    }
  }

  /** Keys with their values, in the order of the file, no key twice. */
  record Entries(List<Entry> entries, Place place) implements YamlNode {

    /** What stands behind {@code key}. */
    public Optional<YamlNode> get(String key) {
      return entries.stream()
          .filter(entry -> entry.key().value().equals(key))
          .map(Entry::value)
          .findFirst();
    }

    @Override
    public String shape() {
      return "a set of keys";
    }
  }

  /** One key and its value. */
  record Entry(Text key, YamlNode value) {}
}
