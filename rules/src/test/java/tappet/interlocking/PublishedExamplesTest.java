package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.interlocking.PublishedExample.COQ_JUNCTION;
import static tappet.interlocking.PublishedExample.CROSSING_LOOP;
import static tappet.interlocking.PublishedExample.RAILML_STATION;
import static tappet.interlocking.PublishedExample.TRAIN_SYSTEM;
import static tappet.interlocking.PublishedExample.TRAM_JUNCTION;
import static tappet.interlocking.PublishedExample.id;
import static tappet.interlocking.PublishedExample.texts;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.rules.RouteRow;
import tappet.rules.RuleReader;
import tappet.source.Problem;
import tappet.source.Problems;

/**
 * Published stations (src/test/resources/published, each with its source) with rules drafted from
 * our layout of their plan alone.
 */
class PublishedExamplesTest {

  /**
   * Pairs that are published as conflicting since an element counts as one section. Our layout
   * divides it at the signal where one route ends and the other begins, as the remark beside the
   * published table asks for: one train may follow the other.
   */
  private static final Set<Set<String>> ONE_AFTER_THE_OTHER =
      Set.of(
          Set.of("R_01", "R_02"),
          Set.of("R_01", "R_12"),
          Set.of("R_02", "R_12"),
          Set.of("R_03", "R_07"),
          Set.of("R_06", "R_08"),
          Set.of("R_06", "R_09"),
          Set.of("R_10", "R_13"),
          Set.of("R_10", "R_14"));

  /** By example and reason: rows that are drafted and not published. */
  private static final Map<String, Map<String, Set<String>>> FURTHER =
      Map.of(
          TRAIN_SYSTEM,
          Map.of(),
          COQ_JUNCTION,
          Map.of(
              "leads out of the published area",
              Set.of("S110-RA", "S104-e0", "S105-w0"),
              "against the direction of the top line, which no key of a layout tells",
              Set.of("S101-k1"),
              "over the top line and back, which the published table does not use this way",
              Set.of("S102-S104-2")),
          CROSSING_LOOP,
          Map.of(),
          RAILML_STATION,
          Map.of(
              "starts at a signal that the published table only has as an exit or not at all",
              Set.of(
                  "S02-w01", "S03-w01", "S04-w01", "S08-e02", "S12-e02", "S14-w23", "S15-e22",
                  "S18-w13", "S19-e15", "S20-e14")),
          TRAM_JUNCTION,
          Map.of(
              "against the direction in which line V1 is run",
              Set.of("S1-V1", "S2-V1"),
              "over track 13, which no published route uses",
              Set.of("S1-V2-2", "S2-V2-2")));

  static List<String> names() {
    return PublishedExample.NAMES;
  }

  // D.3, load-time checks 2 and 3; F.2 L1: each published route is there, over the same sections
  // with the same switches, facing and trailing.
  @ParameterizedTest
  @MethodSource("names")
  void everyPublishedRouteIsDrafted(String name) {
    PublishedExample example = PublishedExample.named(name);
    Set<String> rows =
        example.routes().stream()
            .map(route -> example.row(id(route)).id())
            .collect(Collectors.toSet());
    assertEquals(example.routes().size(), rows.size());
  }

  @ParameterizedTest
  @MethodSource("names")
  void whatIsDraftedBesidesHasItsReason(String name) {
    Set<String> known = new TreeSet<>();
    FURTHER.get(name).values().forEach(known::addAll);
    assertEquals(known, new TreeSet<>(PublishedExample.named(name).furtherRows()));
  }

  // 49 CFR 236.304, 236.308; D.2: exactly the published conflicts, in either order.
  @ParameterizedTest
  @CsvSource({
    "abrial-train-system, 33",
    "coq-junction-ssi, 17",
    "crossing-loop, 14",
    "railml-station, 27",
    "tram-relay-equations, 8",
  })
  void pairsAreLockedTogetherExactlyWhereNoConflictIsPublished(String name, int conflicts) {
    PublishedExample example = PublishedExample.named(name);
    Set<Set<String>> expected = new LinkedHashSet<>(example.publishedConflicts());
    assertEquals(conflicts, expected.size());
    if (name.equals(RAILML_STATION)) {
      assertTrue(expected.removeAll(ONE_AFTER_THE_OTHER));
      assertEquals(conflicts - ONE_AFTER_THE_OTHER.size(), expected.size());
    }
    assertEquals(expected, conflictsOf(example));
  }

  private static Set<Set<String>> conflictsOf(PublishedExample example) {
    Set<Set<String>> conflicts = new LinkedHashSet<>();
    for (JsonNode one : example.routes()) {
      for (JsonNode other : example.routes()) {
        if (!one.equals(other) && !example.together(id(one), id(other))) {
          conflicts.add(Set.of(id(one), id(other)));
        }
      }
    }
    return conflicts;
  }

  // H.14; the published records of railML list facing switches only.
  @Test
  void trailingSwitchesThatTheRailmlRecordsOmitAreNamed() {
    PublishedExample station = PublishedExample.named(RAILML_STATION);
    Map<Integer, String> omitted = new LinkedHashMap<>();
    StringBuilder rules = new StringBuilder("rules: 1\nroutes:\n");
    int line = 2;
    for (JsonNode route : station.routes()) {
      line++;
      rules.append(withFacingSwitchesOnly(station.row(id(route)), route));
      List<String> trailing = texts(route.get("trailing_switches_missing_from_railml"));
      if (!trailing.isEmpty()) {
        omitted.put(line, String.join(" ", trailing));
      }
    }
    rules.append("aspects: {main: {beyond stop: approach}}\n");

    Problems problems = new Problems();
    assertTrue(RuleReader.read("railml", rules.toString(), station.layout, problems).isEmpty());
    Map<Integer, String> named = new LinkedHashMap<>();
    for (Problem problem : problems.sorted()) {
      assertTrue(problem.wrong().contains("and the row does not say how it lies"), problem.wrong());
      named.put(
          problem.place().line(), problem.wrong().replaceAll(".*over switch (\\w+),.*", "$1"));
    }
    assertEquals(omitted, named);
    assertEquals(4, omitted.size());
  }

  private static String withFacingSwitchesOnly(RouteRow row, JsonNode route) {
    List<String> facing = texts(route.get("facing_switches_in_railml"));
    String switches =
        row.switches().entrySet().stream()
            .filter(toe -> facing.contains(toe.getKey()))
            .map(toe -> toe.getKey() + ": " + toe.getValue().word())
            .collect(Collectors.joining(", ", "{", "}"));
    return "  - {from: %s, to: %s, switches: %s, speed: main, release: 5 s}%n"
        .formatted(row.from(), row.to(), switches);
  }

  // H.2: no switch keeps these pairs apart; that they share the diamond's section does.
  @Test
  void routesThatMeetOnlyInTheDiamondOfTheTrainSystemExcludeEachOther() {
    PublishedExample system = PublishedExample.named(TRAIN_SYSTEM);
    Set<Set<String>> byNoSwitch = new LinkedHashSet<>();
    Set<Set<String>> inTheDiamondOnly = new LinkedHashSet<>();
    for (JsonNode reason : system.data.get("conflict_reasons")) {
      Set<String> pair = Set.of(reason.get("a").asText(), reason.get("b").asText());
      if (!reason.get("excluded_by_switch_position_alone").asBoolean()) {
        byNoSwitch.add(pair);
        if (texts(reason.get("shared_sections")).equals(List.of("K"))) {
          inTheDiamondOnly.add(pair);
        }
      }
    }
    assertEquals(9, byNoSwitch.size()); // D.2
    assertEquals(4, inTheDiamondOnly.size()); // R3 and R8 against R4 and R9
    for (Set<String> pair : inTheDiamondOnly) {
      List<String> routes = List.copyOf(pair);
      assertFalse(system.together(routes.get(0), routes.get(1)), pair.toString());
    }
  }

  // Luteberget, station overlap: ra1 takes its overlap a4 too, which keeps rb1 and rb2 out, while a
  // train may go on from where ra1 ends. Without the overlap ra1 and rb2 are an ordinary meet.
  @Test
  void overlapOfTheCrossingLoopKeepsTheOtherSideOut() {
    PublishedExample loop = PublishedExample.named(CROSSING_LOOP);
    assertTrue(loop.together("ra1", "rb2"));

    Desk desk =
        Desk.ready(
            new Desk.Railroad(loop.layout, PublishedExample.read(withOverlaps(loop), loop.layout)));
    desk.line(loop.row("ra1"));
    for (String other : List.of("rb1", "rb2")) {
      RouteRow row = loop.row(other);
      assertFalse(desk.tell("line " + row.from() + " to " + row.to()).granted(), other);
    }
    RouteRow onwards = loop.row("rexita1");
    assertTrue(desk.tell("line " + onwards.from() + " to " + onwards.to()).granted());
  }

  private static String withOverlaps(PublishedExample loop) {
    String rules = loop.draft;
    for (JsonNode route : loop.routes()) {
      if (route.has("overlap")) {
        String clear = "clear: [" + String.join(", ", texts(route.get("sections")));
        String overlap = String.join(", ", texts(route.get("overlap").get("sections")));
        String row = rowText(loop.row(id(route)), rules);
        rules = rules.replace(row, row.replace(clear, clear + ", " + overlap));
      }
    }
    return rules;
  }

  private static String rowText(RouteRow row, String rules) {
    return rules.lines().skip(row.place().line() - 1L).findFirst().orElseThrow();
  }

  // Luteberget, station twoway, release groups: a1 and its switch are free once the train has been
  // in a1 and left it, while a3 is still held.
  @Test
  void crossingLoopIsReleasedGroupByGroup() {
    PublishedExample loop = PublishedExample.named(CROSSING_LOOP);
    JsonNode first = loop.routes().get(0).get("release").get(0);
    assertEquals(List.of("a1", "sw1"), texts(first.get("resources")));

    Desk desk = Desk.ready(new Desk.Railroad(loop.layout, loop.table));
    desk.line(loop.row("ra1"));
    desk.occupy("a0");
    desk.moves("a0", "a1");
    assertTrue(desk.holds("sw1"));
    desk.occupy("a3");
    desk.pass(10.0);
    assertTrue(desk.holds("sw1"), "the tail is still in a1");
    desk.clear("a1");
    desk.steady();
    assertFalse(desk.holds("sw1"));
    RouteRow other = loop.row("rexitb2");
    assertTrue(desk.tell("line " + other.from() + " to " + other.to()).granted());
  }
}
