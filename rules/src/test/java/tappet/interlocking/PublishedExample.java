package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.RuleReader;
import tappet.rules.draft.RuleDraft;
import tappet.source.Problems;

/**
 * A published station: its data as published, a layout of our own that has its plan, and the rules
 * drafted for that layout.
 */
public final class PublishedExample {

  public static final String TRAIN_SYSTEM = "abrial-train-system";
  public static final String COQ_JUNCTION = "coq-junction-ssi";
  public static final String CROSSING_LOOP = "crossing-loop";
  public static final String RAILML_STATION = "railml-station";
  public static final String TRAM_JUNCTION = "tram-relay-equations";
  public static final List<String> NAMES =
      List.of(TRAIN_SYSTEM, COQ_JUNCTION, CROSSING_LOOP, RAILML_STATION, TRAM_JUNCTION);

  private static final Path RESOURCES = Path.of("src", "test", "resources");

  /** The published words for the two positions of a switch. */
  private static final Map<String, Position> POSITIONS =
      Map.of(
          "N", Position.NORMAL,
          "left", Position.NORMAL,
          "S", Position.NORMAL,
          "R", Position.REVERSE,
          "right", Position.REVERSE,
          "D", Position.REVERSE);

  public final JsonNode data;
  public final Layout layout;
  final String draft;
  final ControlTable table;
  private final String name;

  /** By published route: its row in the draft. */
  private final Map<String, RouteRow> rows = new LinkedHashMap<>();

  private PublishedExample(String name) throws IOException {
    this.name = name;
    data = new ObjectMapper().readTree(RESOURCES.resolve("published/" + name + ".json").toFile());
    layout = read(name);
    RuleDraft drafted = RuleDraft.of(layout);
    assertEquals(List.of(), drafted.lacks());
    draft = drafted.text();
    table = read(draft, layout);
    routes().forEach(route -> rows.put(id(route), rowOf(route)));
  }

  public static PublishedExample named(String name) {
    try {
      return new PublishedExample(name);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Layout read(String name) throws IOException {
    Problems problems = new Problems();
    String text = Files.readString(RESOURCES.resolve("published-layouts/" + name + ".yaml"));
    Optional<Layout> layout = LayoutReader.read(name, text, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }

  public static ControlTable read(String rules, Layout layout) {
    Problems problems = new Problems();
    Optional<ControlTable> table = RuleReader.read("draft", rules, layout, problems);
    assertEquals(List.of(), problems.sorted());
    return table.orElseThrow();
  }

  public static String id(JsonNode route) {
    return route.get("id").asText();
  }

  public List<JsonNode> routes() {
    return list(data.get("routes"));
  }

  RouteRow row(String publishedRoute) {
    return rows.get(publishedRoute);
  }

  /** Drafted rows that no published route stands for. */
  Set<String> furtherRows() {
    Set<String> further = new LinkedHashSet<>(table.routes().keySet());
    rows.values().forEach(row -> further.remove(row.id()));
    return further;
  }

  public Set<Set<String>> publishedConflicts() {
    return pairsUnder(data.get("conflicts"));
  }

  /** Pairs out of an object that lists the partners of each. */
  static Set<Set<String>> pairsUnder(JsonNode partners) {
    Set<Set<String>> pairs = new LinkedHashSet<>();
    partners
        .properties()
        .forEach(
            entry ->
                entry
                    .getValue()
                    .forEach(other -> pairs.add(Set.of(entry.getKey(), other.asText()))));
    return pairs;
  }

  /** Whether our network lets {@code second} be locked while {@code first} is. */
  boolean together(String first, String second) {
    Desk desk = Desk.ready(new Desk.Railroad(layout, withoutOtherWays(row(first), row(second))));
    desk.line(row(first));
    desk.tell("line " + row(second).from() + " to " + row(second).to());
    return desk.locked(row(first).id()) && desk.locked(row(second).id());
  }

  /** A dispatcher names two ends; where ways differ, only the way that is meant is left. */
  private ControlTable withoutOtherWays(RouteRow one, RouteRow other) {
    Set<Integer> left = new LinkedHashSet<>();
    for (RouteRow row : table.routes().values()) {
      if (!row.equals(one) && !row.equals(other) && (alike(row, one) || alike(row, other))) {
        left.add(row.place().line());
      }
    }
    if (left.isEmpty()) {
      return table;
    }
    List<String> lines = new ArrayList<>();
    for (String line : draft.split("\n", -1)) {
      lines.add(left.contains(lines.size() + 1) ? "" : line);
    }
    return read(String.join("\n", lines), layout);
  }

  private static boolean alike(RouteRow one, RouteRow other) {
    return one.from().equals(other.from()) && one.to().equals(other.to());
  }

  /** The one drafted row that runs over what a published route does, its switches lying alike. */
  private RouteRow rowOf(JsonNode route) {
    return rowOf(route, table);
  }

  /** The one row of a control table for this layout that does. */
  public RouteRow rowOf(JsonNode route, ControlTable rules) {
    List<RouteRow> found =
        rules.routes().values().stream()
            .filter(row -> row.from().equals(signal(route.get("entry_signal"))))
            .filter(row -> elements(row).equals(sections(route)))
            .filter(row -> positions(row).equals(positions(route)))
            .toList();
    assertEquals(1, found.size(), () -> name + " " + route + " in " + rules.routes());
    RouteRow row = found.get(0);
    if (route.has("exit_signal")) {
      assertEquals(signal(route.get("exit_signal")), row.to(), row.id());
    }
    return row;
  }

  /** Our signals may not be called like a number, nor have an underscore in their name. */
  public String signal(JsonNode published) {
    String id = published.asText().replace('_', '-');
    return name.equals(TRAM_JUNCTION) ? "S" + id : id;
  }

  /**
   * A published route of these two begins with the section before its signal; track 12 has no
   * detection and is the leg of a switch in our layout.
   */
  private List<String> sections(JsonNode route) {
    List<String> sections =
        list(route.get("sections")).stream()
            .map(JsonNode::asText)
            .filter(section -> !(name.equals(TRAM_JUNCTION) && section.equals("12")))
            .toList();
    boolean entryCounts = name.equals(TRAIN_SYSTEM) || name.equals(TRAM_JUNCTION);
    return sections.subList(entryCounts ? 1 : 0, sections.size());
  }

  /** Our railML layout divides elements at signals: ne08-1 and ne08-2 are parts of ne08. */
  private List<String> elements(RouteRow row) {
    boolean divided = name.equals(RAILML_STATION);
    return row.path().stream()
        .map(section -> divided ? section.replaceAll("-\\d+$", "") : section)
        .distinct()
        .toList();
  }

  private static Map<String, Position> positions(JsonNode route) {
    return route.get("switches").properties().stream()
        .collect(Collectors.toMap(Map.Entry::getKey, at -> POSITIONS.get(at.getValue().asText())));
  }

  /** Two machines that move as one are one published switch. */
  private Map<String, Position> positions(RouteRow row) {
    Map<String, Position> positions = new LinkedHashMap<>();
    row.switches().forEach((id, position) -> positions.put(publishedSwitch(id), position));
    row.flank().forEach((id, position) -> checkOtherEnd(id, position, positions));
    return positions;
  }

  /** Where the other end of a crossover lies beside the way, it lies as the crossover does. */
  private void checkOtherEnd(String id, Position position, Map<String, Position> positions) {
    Position end = positions.get(publishedSwitch(id));
    assertEquals(end == null ? position : end, position, id);
  }

  private String publishedSwitch(String id) {
    return list(data.get("switches")).stream()
        .filter(toe -> list(toe.path("machines")).stream().anyMatch(m -> m.asText().equals(id)))
        .map(PublishedExample::id)
        .findFirst()
        .orElse(id);
  }

  public static List<JsonNode> list(JsonNode array) {
    return StreamSupport.stream(array.spliterator(), false).toList();
  }

  public static List<String> texts(JsonNode array) {
    return list(array).stream().map(JsonNode::asText).toList();
  }
}
