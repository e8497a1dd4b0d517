package tappet.source;

import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.regex.Pattern;

/**
 * A value in an owner's file, read as what its reader expects of it. Each method answers empty
 * where the value is not there or is something else; the second is noted as a problem, the first by
 * the {@link Fields} it was asked of.
 */
public final class Value {

  private static final Pattern IDENTIFIER = Pattern.compile("[A-Za-z0-9]+(-[A-Za-z0-9]+)*");

  private final String what;
  private final Place place;
  private final Optional<YamlNode> node;
  private final String example;
  private final Problems problems;

  Value(String what, Place place, Optional<YamlNode> node, String example, Problems problems) {
    this.what = what;
    this.place = place;
    this.node = node;
    this.example = example;
    this.problems = problems;
  }

  /** A key with what stands behind it, where the owner chose the key. */
  public record Named(YamlNode.Text key, Value value) {}

  /**
   * The whole of a file; empty where it is no YAML.
   *
   * @param what what the file is, in messages: {@code the layout}
   */
  public static Value ofFile(String what, String file, String text, Problems problems) {
    var root = YamlReader.read(file, text, problems);
    return new Value(what, new Place(file, 1, 1), root, "key: value", problems);
  }

  static Value absent(Problems problems) {
    return new Value("", new Place("", 1, 1), Optional.empty(), "", problems);
  }

  /** Whether anything was written. */
  public boolean present() {
    return node.isPresent();
  }

  /** Whether it is a set of keys; an empty one counts. */
  public boolean holdsKeys() {
    return node.isPresent() && (nothingWritten() || node.get() instanceof YamlNode.Entries);
  }

  /** Where the value starts, or where its key does if nothing stands behind it. */
  public Place place() {
    return nothingWritten() ? place : node.map(YamlNode::place).orElse(place);
  }

  /** The same value, called something else in messages. */
  public Value called(String name, String otherExample) {
    return new Value(name, place, node, otherExample, problems);
  }

  /** Notes that the value is wrong in a way only its reader knows. */
  public void note(String wrong, String meant) {
    problems.add(place(), wrong, meant);
  }

  /** A single value that is not empty. */
  public Optional<YamlNode.Text> text() {
    return written(YamlNode.Text.class, "a single value");
  }

  /** A name that others can refer to: letters and digits with hyphens between them. */
  public Optional<YamlNode.Text> identifier() {
    return text().filter(text -> isIdentifier(text, problems));
  }

  /** One of {@code words}. */
  public Optional<YamlNode.Text> word(Collection<String> words) {
    return text().filter(text -> isOneOf(text, words));
  }

  /** {@code yes} or {@code no}, {@code true} or {@code false}. */
  public Optional<Boolean> yesOrNo() {
    return word(List.of("yes", "no", "true", "false"))
        .map(text -> text.value().equals("yes") || text.value().equals("true"));
  }

  /** A number with or without a decimal point, of at most nine digits before and behind it. */
  public Optional<Double> number() {
    return parsed(Quantity::number, "a number");
  }

  /** A whole number from {@code min} to {@code max}. */
  public Optional<Integer> wholeNumber(int min, int max) {
    return parsed(
            Quantity::number,
            number -> number >= min && number <= max && number == Math.rint(number),
            "a whole number from " + min + " to " + max)
        .map(Double::intValue);
  }

  /** A length above 0 with its unit (m, cm, mm, ft, in), in metres. */
  public Optional<Double> metres() {
    return parsed(
        Quantity::metres,
        metres -> metres > 0,
        "a length above 0 with its unit (m, cm, mm, ft, in)");
  }

  /** A time with its unit (ms, s, min, h). */
  public Optional<Duration> duration() {
    return parsed(Quantity::duration, "a time with its unit (ms, s, min, h)");
  }

  /**
   * A text of some other form.
   *
   * @param reader empty where the text has not that form
   * @param expected the form in an owner's words, with its article
   */
  public <T> Optional<T> parsed(Function<String, Optional<T>> reader, String expected) {
    return parsed(reader, any -> true, expected);
  }

  private <T> Optional<T> parsed(
      Function<String, Optional<T>> reader, Predicate<T> allowed, String expected) {
    var text = text();
    var result = text.flatMap(written -> reader.apply(written.value())).filter(allowed);
    if (text.isPresent() && result.isEmpty()) {
      note("%s is not %s".formatted(text.get().shown(), expected), likeThis());
    }
    return result;
  }

  /** A list; one that is not there or empty has no items. */
  public List<Value> items() {
    if (nothingWritten()) {
      return List.of();
    }
    return written(YamlNode.Items.class, "a list").map(this::items).orElse(List.of());
  }

  /** A list of exactly {@code count} items, or an empty one where it is anything else. */
  public List<Value> items(int count) {
    var list = written(YamlNode.Items.class, "a list");
    if (list.isPresent() && list.get().items().size() != count) {
      note(
          "%s should have %d values, not %d".formatted(what, count, list.get().items().size()),
          likeThis());
      return List.of();
    }
    return list.map(this::items).orElse(List.of());
  }

  /** Entries under keys of the owner's choosing, in the order of the file. */
  public List<Named> named() {
    if (nothingWritten()) {
      return List.of();
    }
    return written(YamlNode.Entries.class, "a set of keys")
        .map(entries -> entries.entries().stream().map(this::named).toList())
        .orElse(List.of());
  }

  /** Entries under keys that are known; {@code reader} asks for them all. */
  public <T> Optional<T> read(Function<Fields, T> reader) {
    return written(YamlNode.Entries.class, "a set of keys")
        .map(entries -> new Fields(what, place, entries, problems))
        .map(
            fields -> {
              var result = reader.apply(fields);
              fields.done();
              return result;
            });
  }

  /** Whether {@code text} is a name that others can refer to; notes it where it is not. */
  public static boolean isIdentifier(YamlNode.Text text, Problems problems) {
    boolean good = IDENTIFIER.matcher(text.value()).matches();
    if (!good) {
      problems.add(
          text.place(),
          "%s cannot be a name".formatted(text.shown()),
          "use letters, digits and hyphens between them");
    }
    return good;
  }

  private boolean isOneOf(YamlNode.Text text, Collection<String> words) {
    boolean known = words.contains(text.value());
    if (!known) {
      note(
          "%s cannot be %s".formatted(what, text.shown()),
          NearNames.nearest(text.value(), words)
              .map("did you mean '%s'?"::formatted)
              .orElseGet(() -> "it can be " + NearNames.oneOf(words)));
    }
    return known;
  }

  private <N extends YamlNode> Optional<N> written(Class<N> shape, String expected) {
    if (node.isEmpty()) {
      return Optional.empty();
    }
    if (nothingWritten()) {
      problems.add(place, what + " is empty", likeThis());
    } else if (!shape.isInstance(node.get())) {
      note("%s is %s, not %s".formatted(what, node.get().shape(), expected), likeThis());
    }
    return node.filter(shape::isInstance).map(shape::cast).filter(any -> !nothingWritten());
  }

  /** Whether nothing stands behind the key, or the value is not there at all. */
  private boolean nothingWritten() {
    return node.map(written -> written instanceof YamlNode.Text text && text.blank()).orElse(true);
  }

  private String likeThis() {
    return "write for example '" + example + "'";
  }

  private List<Value> items(YamlNode.Items list) {
    return list.items().stream().map(this::item).toList();
  }

  private Value item(YamlNode item) {
    var shown = item instanceof YamlNode.Text text ? text.shown() : "an item of " + what;
    return new Value(shown, item.place(), Optional.of(item), example, problems);
  }

  private Named named(YamlNode.Entry entry) {
    var key = entry.key();
    return new Named(
        key, new Value(key.shown(), key.place(), Optional.of(entry.value()), example, problems));
  }
}
