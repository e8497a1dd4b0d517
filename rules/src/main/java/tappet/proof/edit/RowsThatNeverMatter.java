package tappet.proof.edit;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.network.Network;
import tappet.source.Place;
import tappet.source.YamlNode;

/**
 * What an owner could leave out of a rule file, one thing at a time, without the field ever being
 * told anything else. Of things within each other the outermost is told.
 *
 * <p>A list behind a key of which each word is demanded by the check of the file is left alone: it
 * says again what the track plan says, so that the two can be held against each other.
 */
public final class RowsThatNeverMatter {

  /**
   * Something that never matters.
   *
   * @param line where it begins, from 1
   * @param words what it is, in the file's own words: {@code routes, from w2e, to main-end, needs}
   */
  public record Row(int line, String words) {}

  private final Tree file;
  private final Function<String, Optional<Network>> compiled;
  private final Predicate<Network> sameOrders;

  private RowsThatNeverMatter(
      Tree file, Function<String, Optional<Network>> compiled, Predicate<Network> sameOrders) {
    this.file = file;
    this.compiled = compiled;
    this.sameOrders = sameOrders;
  }

  /**
   * Finds them, in the order of the file.
   *
   * @param rules the text of a rule file without a mistake
   * @param compiled the network of such a text; empty where it has a mistake. More than one thread
   *     may call it at once
   * @param sameOrders whether a network is shown to give the same orders as that of the file, such
   *     as {@link tappet.proof.Equivalence} does
   */
  public static List<Row> in(
      String rules, Function<String, Optional<Network>> compiled, Predicate<Network> sameOrders) {
    Tree file = Tree.of(rules);
    return new RowsThatNeverMatter(file, compiled, sameOrders).within(file.root(), "").toList();
  }

  private Stream<Row> within(YamlNode node, String where) {
    if (node instanceof YamlNode.Items list) {
      return list.items().parallelStream()
          .flatMap(item -> idle(item, item.place(), where + ", " + name(item), isNeeded(item)));
    }
    if (node instanceof YamlNode.Entries keys) {
      return keys.entries().parallelStream().flatMap(entry -> idle(entry, where));
    }
    return Stream.of();
  }

  private Stream<Row> idle(YamlNode.Entry entry, String where) {
    YamlNode value = entry.value();
    String words = (where.isEmpty() ? "" : where + ", ") + entry.key().value();
    boolean needed = isThereToBeChecked(value) || isNeeded(value);
    return idle(value, entry.key().place(), words, needed);
  }

  private Stream<Row> idle(YamlNode node, Place place, String words, boolean needed) {
    return needed ? within(node, words) : Stream.of(new Row(place.line(), words));
  }

  private boolean isNeeded(YamlNode node) {
    return compiled.apply(file.without(node)).filter(sameOrders).isEmpty();
  }

  private boolean isThereToBeChecked(YamlNode node) {
    List<YamlNode> words = parts(node);
    return !words.isEmpty()
        && words.stream().allMatch(YamlNode.Text.class::isInstance)
        && words.stream().allMatch(word -> compiled.apply(file.without(word)).isEmpty());
  }

  private static List<YamlNode> parts(YamlNode node) {
    if (node instanceof YamlNode.Items list) {
      return list.items();
    }
    return node instanceof YamlNode.Entries keys
        ? keys.entries().stream().map(YamlNode.Entry::value).toList()
        : List.of();
  }

  /** A word, or the single values with which a row begins. */
  private static String name(YamlNode item) {
    if (item instanceof YamlNode.Entries keys) {
      return keys.entries().stream()
          .takeWhile(entry -> entry.value() instanceof YamlNode.Text)
          .map(entry -> entry.key().value() + " " + ((YamlNode.Text) entry.value()).value())
          .collect(Collectors.joining(", "));
    }
    return item instanceof YamlNode.Text word ? word.value() : item.shape();
  }
}
