package tappet.proof.mutants;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.proof.edit.Tree;
import tappet.proof.mutants.Fault.Kind;
import tappet.source.YamlNode;
import tappet.source.YamlNode.Entries;
import tappet.source.YamlNode.Entry;
import tappet.source.YamlNode.Items;
import tappet.source.YamlNode.Text;

/** Every fault of the kinds known here that somebody could make in a rule file. */
final class Faults {

  /** What a shortened time becomes: shorter than any train needs to stop. */
  private static final String SHORT = "1 s";

  private final Layout layout;
  private final Tree file;
  private final List<Fault> faults = new ArrayList<>();

  private Faults(Layout layout, String rules) {
    this.layout = layout;
    this.file = Tree.of(rules);
  }

  static List<Fault> in(Layout layout, String rules) {
    Faults faults = new Faults(layout, rules);
    faults.gather();
    return faults.faults;
  }

  private void gather() {
    items("routes").forEach(this::inRow);
    inLadders();
    items("traffic").forEach(this::inLine);
    items("locks").forEach(this::inLock);
    items("flags").forEach(this::inFlag);
    items("grade crossings").forEach(this::inCrossing);
    Stream.of("also", "lights", "indicators", "requests").forEach(this::inOthers);
    value(root(), "times").ifPresent(this::inTimes);
  }

  private void inRow(Entries row) {
    String route = "route " + word(row, "from") + "-" + word(row, "to");
    leaveOut(Kind.ROW_LEFT_OUT, route, row);
    inRowsTrack(row, route);
    inRowsSignal(row, route);
    shorten(row, "release", route);
    approach(row, route, Kind.APPROACH_SHORTENED);
  }

  private void inRowsTrack(Entries row, String route) {
    texts(row, "clear").forEach(item -> leaveOut(Kind.SECTION_LEFT_OUT, route + ": clear", item));
    switches(row, "switches", route, Kind.SWITCH_FLIPPED, Kind.SWITCH_LEFT_OUT);
    switches(row, "flank", route, Kind.FLANK_FLIPPED, Kind.FLANK_LEFT_OUT);
    texts(row, "not with")
        .forEach(item -> leaveOut(Kind.CONFLICT_LEFT_OUT, route + ": not with", item));
    value(row, "overlap").ifPresent(overlap -> inOverlap((Entries) overlap, route));
    value(row, "needs").ifPresent(need -> leaveOut(Kind.NEED_LEFT_OUT, route + ": needs", need));
    otherEnds(row)
        .forEach(end -> replace(Kind.OTHER_END, route + ": to", value(row, "to").get(), end));
  }

  private void inOverlap(Entries overlap, String route) {
    leaveOut(Kind.OVERLAP_LEFT_OUT, route + ": overlap", overlap);
    texts(overlap, "clear")
        .forEach(item -> leaveOut(Kind.OVERLAP_LEFT_OUT, route + ": overlap: clear", item));
    switches(overlap, "switches", route + ": overlap", Kind.FLANK_FLIPPED, Kind.FLANK_LEFT_OUT);
    shorten(overlap, "time", route + ": overlap");
  }

  private void inRowsSignal(Entries row, String route) {
    speeds().stream()
        .filter(speed -> !speed.equals(word(row, "speed")))
        .forEach(
            speed ->
                replace(Kind.OTHER_SPEED, route + ": speed", value(row, "speed").get(), speed));
    value(row, "call on")
        .ifPresentOrElse(
            aspect -> leaveOut(Kind.CALL_ON_LEFT_OUT, route + ": call on", aspect),
            () -> add(Kind.CALL_ON_ADDED, route, row, "call on", "restricting"));
    value(row, "automatic")
        .ifPresentOrElse(automatic -> makeCalled(row, route), () -> makeAutomatic(row, route));
  }

  private void makeCalled(Entries row, String route) {
    Entries called = with(withoutKey(row, "automatic"), "release", "10 s");
    faults.add(
        new Fault(Kind.AUTOMATIC_LEFT_OUT, route + " is not automatic", file.with(row, called)));
  }

  private void makeAutomatic(Entries row, String route) {
    Entries automatic =
        with(withoutKey(withoutKey(row, "release"), "approach"), "automatic", "yes");
    faults.add(new Fault(Kind.AUTOMATIC_ADDED, route + " is automatic", file.with(row, automatic)));
  }

  private void approach(Entries row, String of, Kind shortened) {
    String where = of + ": approach";
    value(row, "approach").ifPresent(list -> leaveOut(Kind.APPROACH_LEFT_OUT, where, list));
    List<Text> sections = texts(row, "approach");
    if (sections.size() > 1) {
      sections.forEach(section -> leaveOut(shortened, where, section));
    }
  }

  private void inLadders() {
    for (Entry speed : keys(value(root(), "aspects").orElseThrow())) {
      Set<String> aspects =
          keys(speed.value()).stream()
              .map(rung -> ((Text) rung.value()).value())
              .collect(Collectors.toCollection(LinkedHashSet::new));
      for (Entry rung : keys(speed.value())) {
        String where = speed.key().value() + ": " + rung.key().value();
        leaveOut(Kind.RUNG_LEFT_OUT, where, rung.value());
        aspects.stream()
            .filter(aspect -> !aspect.equals(((Text) rung.value()).value()))
            .forEach(aspect -> replace(Kind.WRONG_RUNG, where, rung.value(), aspect));
      }
    }
  }

  private void inLine(Entries line) {
    String traffic = "traffic on " + word(line, "line");
    leaveOut(Kind.LINE_LEFT_OUT, traffic, line);
    texts(line, "sections")
        .forEach(item -> leaveOut(Kind.LINE_LEFT_OUT, traffic + ": sections", item));
    List<Entry> ways =
        line.entries().stream().filter(entry -> entry.key().value().endsWith("ward")).toList();
    for (Entry way : ways) {
      for (Text signal : texts(line, way.key().value())) {
        String where = traffic + ": " + way.key().value();
        leaveOut(Kind.SIGNAL_LEFT_OUT, where, signal);
        turn(line, way, signal, traffic);
      }
    }
  }

  private void turn(Entries line, Entry way, Text signal, String traffic) {
    List<Entry> entries = new ArrayList<>();
    for (Entry entry : line.entries()) {
      boolean isWay = entry.key().value().endsWith("ward");
      entries.add(
          !isWay
              ? entry
              : new Entry(
                  entry.key(), entry.equals(way) ? without(entry, signal) : with(entry, signal)));
    }
    faults.add(
        new Fault(
            Kind.SIGNAL_TURNED,
            traffic + ": " + signal.value() + " turned",
            file.with(line, new Entries(entries, line.place()))));
  }

  private static Items without(Entry list, YamlNode item) {
    List<YamlNode> items = new ArrayList<>(((Items) list.value()).items());
    items.remove(item);
    return new Items(items, list.value().place());
  }

  private static Items with(Entry list, YamlNode item) {
    List<YamlNode> items = new ArrayList<>(((Items) list.value()).items());
    items.add(item);
    return new Items(items, list.value().place());
  }

  private void inLock(Entries lock) {
    String of = "lock " + word(lock, "switch");
    leaveOut(Kind.LOCK_LEFT_OUT, of, lock);
    shorten(lock, "release time", of);
    approach(lock, of, Kind.LOCK_APPROACH_SHORTENED);
    value(lock, "release section")
        .ifPresent(
            section -> {
              leaveOut(Kind.RELEASE_SECTION_LEFT_OUT, of + ": release section", section);
              layout.sections().keySet().stream()
                  .filter(other -> !other.equals(((Text) section).value()))
                  .forEach(
                      other ->
                          replace(
                              Kind.OTHER_RELEASE_SECTION,
                              of + ": release section",
                              section,
                              other));
            });
  }

  private void inFlag(Entries flag) {
    String of = "flag on " + word(flag, "section");
    leaveOut(Kind.FLAG_LEFT_OUT, of, flag);
    switches(flag, "switches", of, Kind.SWITCH_FLIPPED, Kind.SWITCH_LEFT_OUT);
  }

  private void inCrossing(Entries crossing) {
    String of = "grade crossing " + word(crossing, "crossing");
    leaveOut(Kind.CROSSING_LEFT_OUT, of, crossing);
    value(crossing, "approaches")
        .ifPresent(
            approaches ->
                ((Items) approaches)
                    .items()
                    .forEach(
                        approach ->
                            leaveOut(Kind.CROSSING_LEFT_OUT, of + ": an approach", approach)));
    shorten(crossing, "time-out", of);
  }

  private void inOthers(String key) {
    Kind kind =
        key.equals("also") || key.equals("lights") ? Kind.NEED_LEFT_OUT : Kind.LINESIDE_LEFT_OUT;
    int number = 0;
    for (Entries item : items(key)) {
      leaveOut(kind, key + ", entry " + ++number, item);
    }
  }

  private void inTimes(YamlNode times) {
    keys(times).forEach(time -> shorten((Entries) times, time.key().value(), "times"));
  }

  private void shorten(Entries row, String key, String of) {
    value(row, key)
        .ifPresent(
            time -> {
              leaveOut(Kind.TIME_LEFT_OUT, of + ": " + key, time);
              replace(Kind.SHORT_TIME, of + ": " + key, time, SHORT);
            });
  }

  private void switches(Entries row, String key, String of, Kind flipped, Kind leftOut) {
    if (value(row, key).isEmpty()) {
      return;
    }
    for (Entry toe : keys(value(row, key).get())) {
      String where = of + ": " + key + ": " + toe.key().value();
      Position lies = Position.valueOf(((Text) toe.value()).value().toUpperCase(Locale.ROOT));
      replace(flipped, where, toe.value(), lies.opposite().word());
      leaveOut(leftOut, where, toe.value());
    }
  }

  /** The ends of other rows from the same signal. */
  private Set<String> otherEnds(Entries row) {
    Set<String> ends = new LinkedHashSet<>();
    items("routes").stream()
        .filter(other -> word(other, "from").equals(word(row, "from")))
        .forEach(other -> ends.add(word(other, "to")));
    ends.remove(word(row, "to"));
    return ends;
  }

  private Set<String> speeds() {
    return keys(value(root(), "aspects").orElseThrow()).stream()
        .map(speed -> speed.key().value())
        .collect(Collectors.toCollection(LinkedHashSet::new));
  }

  private void leaveOut(Kind kind, String where, YamlNode node) {
    String what = node instanceof Text text ? " without " + text.value() : " left out";
    faults.add(new Fault(kind, where + what, file.without(node)));
  }

  private void replace(Kind kind, String where, YamlNode node, String word) {
    faults.add(
        new Fault(
            kind,
            where + ": " + ((Text) node).value() + " as " + word,
            file.with(node, new Text(word, node.place(), false))));
  }

  private void add(Kind kind, String of, Entries row, String key, String word) {
    faults.add(
        new Fault(kind, of + ": " + key + ": " + word, file.with(row, with(row, key, word))));
  }

  private static Entries with(Entries row, String key, String word) {
    List<Entry> entries = new ArrayList<>(row.entries());
    entries.add(new Entry(new Text(key, row.place(), false), new Text(word, row.place(), false)));
    return new Entries(entries, row.place());
  }

  private static Entries withoutKey(Entries row, String key) {
    return new Entries(
        row.entries().stream().filter(entry -> !entry.key().value().equals(key)).toList(),
        row.place());
  }

  private Entries root() {
    return (Entries) file.root();
  }

  private List<Entries> items(String key) {
    return value(root(), key).stream()
        .flatMap(list -> ((Items) list).items().stream())
        .map(Entries.class::cast)
        .toList();
  }

  private static List<Text> texts(Entries row, String key) {
    return row.get(key).stream()
        .flatMap(list -> ((Items) list).items().stream())
        .map(Text.class::cast)
        .toList();
  }

  private static List<Entry> keys(YamlNode node) {
    return ((Entries) node).entries();
  }

  private static Optional<YamlNode> value(Entries row, String key) {
    return row.get(key);
  }

  private static String word(Entries row, String key) {
    return row.get(key).map(value -> ((Text) value).value()).orElse("");
  }
}
