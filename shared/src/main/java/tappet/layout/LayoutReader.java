package tappet.layout;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import java.util.stream.Stream;
import tappet.source.Fields;
import tappet.source.Place;
import tappet.source.Problems;
import tappet.source.Value;
import tappet.source.YamlNode;

/** Reads {@code layout.yaml}. */
public final class LayoutReader {

  private static final String VERSION = "1";

  private final String file;
  private final Problems problems;

  /** Where each signal says which section it leads into. */
  private final Map<String, Place> intoPlaces = new LinkedHashMap<>();

  private LayoutReader(String file, Problems problems) {
    this.file = file;
    this.problems = problems;
  }

  /**
   * A layout file that has been read.
   *
   * @param outline the layout as far as it could be read, with stand-ins where it could not: good
   *     for checking what refers to it, never for running; empty where the file is no layout at all
   * @param right whether there was no mistake
   */
  public record Reading(Optional<Layout> outline, boolean right) {

    /** The layout, or empty if there was any mistake: what is half known is not signalled. */
    public Optional<Layout> layout() {
      return outline.filter(any -> right);
    }
  }

  /**
   * Reads a layout.
   *
   * @param file the file's name, for messages
   * @param text what is in it
   * @param problems where every mistake is noted
   * @return the layout, or empty if there was any mistake
   */
  public static Optional<Layout> read(String file, String text, Problems problems) {
    return reading(file, text, problems).layout();
  }

  /** Reads a layout, and tells what could be read even where there are mistakes. */
  public static Reading reading(String file, String text, Problems problems) {
    var own = new Problems();
    var reading = new LayoutReader(file, own).read(text);
    own.sorted().forEach(problems::add);
    return reading;
  }

  /** The plan is checked once every name in it is right, so that one slip gives one message. */
  private Reading read(String text) {
    var outline = Value.ofFile("the layout", file, text, problems).read(this::layout);
    outline
        .filter(any -> problems.none())
        .ifPresent(plan -> new PlanCheck(plan, intoPlaces, problems).check());
    return new Reading(outline, problems.none());
  }

  /**
   * Where something cannot be read, a stand-in takes its place: nobody gets to run a layout with a
   * mistake.
   */
  private Layout layout(Fields written) {
    version(written.required("layout", VERSION));
    var name = written.required("name", "Ambrose Valley Line").text();
    var lists = lists(written);
    var boards = written.optional("boards", "{fallow: {node: 0A.57.00.00.01.00}}").named();
    var reader = new ElementReader(lists, looks(written), intoPlaces, problems);
    var layout =
        new Layout(
            file,
            name.map(YamlNode.Text::value).orElse(""),
            all(lists.joints(), "joint", "[0, 2]", reader::joint),
            all(lists.sections(), "section", "{between: [j1, j2], length: 3.2 m}", reader::section),
            switches(lists, reader),
            all(lists.signals(), "signal", "{at: j1, into: west-main}", reader::signal));
    layout = layout.with(reader.lineside(layout).lineside(written));
    var boardReader = new BoardReader(layout, problems);
    var running = new TrainsReader(lists, problems);
    return layout
        .with(all(boards, "board", "{node: 0A.57.00.00.01.00}", boardReader::board))
        .crossedBy(
            all(
                lists.diamonds(),
                "diamond",
                "{section: mill-x, tracks: [[j1, j2], [j3, j4]]}",
                new DiamondReader(lists)::diamond))
        .runBy(trains(written, running), guards(written, running))
        .spokenOfBy(
            all(
                written.optional("places", "{tilling: {sections: [west-main]}}").named(),
                "place",
                "{sections: [west-main]}",
                new PlacesReader(lists)::place))
        .watchedBy(reader.heartbeat(written.optional("heartbeat", "{event: …}")));
  }

  private static Trains trains(Fields written, TrainsReader reader) {
    Value trains = written.optional("trains", "{stop within: 8 s, stopping distance: 1.2 m}");
    return reader.trains(trains).orElse(Trains.UNKNOWN);
  }

  private static List<Guard> guards(Fields written, TrainsReader reader) {
    return written
        .optional("guards", "[{section: mill-os, switches: {cr1: normal}}]")
        .items()
        .stream()
        .flatMap(guard -> reader.guard(guard).stream())
        .toList();
  }

  /** Derails are switches without a normal leg; one name is one of the two. */
  private Map<String, Switch> switches(Lists lists, ElementReader reader) {
    Map<String, Switch> switches =
        new LinkedHashMap<>(
            all(lists.switches(), "switch", "{section: os, points: j1}", reader::toe));
    all(lists.derails(), "derail", "{section: os, points: j1, through: j2}", reader::derail)
        .forEach(
            (id, derail) ->
                noteSecond(id, derail, Optional.ofNullable(switches.putIfAbsent(id, derail))));
    switches.replaceAll((id, toe) -> toe.workedLike(switches.getOrDefault(toe.number(), toe)));
    return Collections.unmodifiableMap(switches);
  }

  private void noteSecond(String id, Switch derail, Optional<Switch> first) {
    first.ifPresent(
        other ->
            problems.add(
                derail.place(),
                "'%s' is the name of a switch too, in line %d".formatted(id, other.place().line()),
                "rename one of the two, because commands and rules name both alike"));
  }

  private void version(Value version) {
    version
        .text()
        .filter(text -> !text.value().equals(VERSION))
        .ifPresent(
            text ->
                version.note(
                    "version %s of layout files is not known".formatted(text.shown()),
                    "write 'layout: %s'".formatted(VERSION)));
  }

  private static Lists lists(Fields written) {
    return new Lists(
        written.required("joints", "{j1: [0, 2], j2: [6, 2]}").named(),
        written.required("sections", "{west-main: {between: [j1, j2], length: 3.2 m}}").named(),
        written.optional("switches", "{t1: {section: os, points: j1}}").named(),
        written.optional("signals", "{t2e: {at: j1, into: west-main}}").named(),
        written.optional("derails", "{d1: {section: spur, points: j1, through: j2}}").named(),
        written
            .optional("diamonds", "{x1: {section: mill-x, tracks: [[j1, j2], [j3, j4]]}}")
            .named());
  }

  private Map<String, Looks> looks(Fields written) {
    return LooksReader.read(
        written.optional("looks", "{two-head: {stop: [red, red], approach: [yellow, red]}}"),
        written.optional("restriction", "[stop, approach, clear]"),
        problems);
  }

  private <T> Map<String, T> all(
      List<Value.Named> list,
      String kind,
      String example,
      BiFunction<YamlNode.Text, Value, Optional<T>> reader) {
    Map<String, T> elements = new LinkedHashMap<>();
    for (Value.Named element : list) {
      var id = element.key();
      if (Value.isIdentifier(id, problems)) {
        var value = element.value().called(kind + " " + id.shown(), id.value() + ": " + example);
        reader.apply(id, value).ifPresent(read -> elements.put(id.value(), read));
      }
    }
    return Collections.unmodifiableMap(elements);
  }

  /** The lists of a layout file, as they were written. */
  record Lists(
      List<Value.Named> joints,
      List<Value.Named> sections,
      List<Value.Named> switches,
      List<Value.Named> signals,
      List<Value.Named> derails,
      List<Value.Named> diamonds) {

    List<Value.Named> switchesAndDerails() {
      return Stream.concat(switches.stream(), derails.stream()).toList();
    }
  }
}
