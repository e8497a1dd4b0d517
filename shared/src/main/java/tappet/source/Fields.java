package tappet.source;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/**
 * The keys of one entry in an owner's file. A reader asks for each key it knows; what is missing
 * and what nobody asked for is noted once it is through ({@link Value#read}).
 */
public final class Fields {

  private final String what;
  private final Place place;
  private final YamlNode.Entries entries;
  private final Problems problems;
  private final Set<String> known = new LinkedHashSet<>();
  private final Map<String, String> missing = new LinkedHashMap<>();

  Fields(String what, Place place, YamlNode.Entries entries, Problems problems) {
    this.what = what;
    this.place = place;
    this.entries = entries;
    this.problems = problems;
  }

  /** Where the entry stands. */
  public Place place() {
    return place;
  }

  /**
   * The value of a key that must be there.
   *
   * @param example a value as an owner would write it, for the message if there is none or a wrong
   *     one
   */
  public Value required(String key, String example) {
    if (entries.get(key).isEmpty()) {
      missing.put(key, example);
    }
    return optional(key, example);
  }

  /**
   * The value of a key that may be left out.
   *
   * @param example a value as an owner would write it, for the message if it is a wrong one
   */
  public Value optional(String key, String example) {
    known.add(key);
    return entries.entries().stream()
        .filter(entry -> entry.key().value().equals(key))
        .findFirst()
        .map(entry -> value(entry, key + ": " + example))
        .orElseGet(() -> Value.absent(problems));
  }

  /** Notes keys that nobody asked for, and required ones that nobody wrote. */
  void done() {
    List<YamlNode.Text> unknown =
        entries.entries().stream()
            .map(YamlNode.Entry::key)
            .filter(key -> !known.contains(key.value()))
            .toList();
    unknown.forEach(this::noteUnknown);
    missing.forEach(this::noteMissing);
  }

  /** A key that is written wrong is one mistake: it is not missing as well. */
  private void noteUnknown(YamlNode.Text key) {
    var meant = NearNames.nearest(key.value(), unused());
    meant.ifPresent(missing::remove);
    problems.add(
        key.place(),
        "%s has no key %s".formatted(what, key.shown()),
        meant
            .map("did you mean '%s'?"::formatted)
            .orElseGet(() -> "its keys are " + NearNames.few(known)));
  }

  private List<String> unused() {
    return Stream.concat(missing.keySet().stream(), known.stream())
        .distinct()
        .filter(key -> entries.get(key).isEmpty())
        .toList();
  }

  private void noteMissing(String key, String example) {
    problems.add(
        place,
        "%s lacks '%s'".formatted(what, key),
        "add for example '%s: %s'".formatted(key, example));
  }

  private Value value(YamlNode.Entry entry, String example) {
    return new Value(
        entry.key().shown(), entry.key().place(), Optional.of(entry.value()), example, problems);
  }
}
