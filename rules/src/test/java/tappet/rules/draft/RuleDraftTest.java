package tappet.rules.draft;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.layout.Position;
import tappet.measure.GeneratedLine;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.RuleReader;
import tappet.rules.TrafficLine;
import tappet.source.Problem;
import tappet.source.Problems;

/** Drafts are read back, agree with what an owner wrote, and say what they chose. */
class RuleDraftTest {

  private static final Path CONFIG = Path.of("..", "config");

  private static final String PLAIN = "../shared/src/test/resources/plain";

  /** What a row must have in common with an owner's. */
  private record Way(
      String from, String to, List<String> path, Map<String, Position> switches, String speed) {

    static Set<Way> all(ControlTable table) {
      return table.routes().values().stream().map(Way::of).collect(Collectors.toSet());
    }

    private static Way of(RouteRow row) {
      return new Way(row.from(), row.to(), row.path(), row.switches(), row.speed());
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {PLAIN, "starter"})
  void draftHasTheRoutesAndLaddersThatTheOwnerWrote(String folder) {
    Layout layout = layout(text(folder, "layout.yaml"));
    ControlTable owners = table(text(folder, "rules.yaml"), layout);
    ControlTable drafted = drafted(layout);
    assertEquals(Way.all(owners), Way.all(drafted));
    assertEquals(owners.ladders().keySet(), drafted.ladders().keySet());
    owners
        .ladders()
        .forEach(
            (speed, ladder) ->
                assertEquals(ladder.beyond(), drafted.ladders().get(speed).beyond()));
  }

  @Test
  void electricLocksAndGradeCrossingsHaveTheirRows() {
    Layout layout = layout(text("demo", "layout.yaml"));
    ControlTable drafted = drafted(layout);
    assertEquals(Set.of("q1", "y1"), drafted.locks().keySet());
    var bells = drafted.lineside().crossings().get("mill-road-bells");
    assertEquals(
        List.of(List.of("mid-west"), List.of("mid-near")),
        bells.approaches().stream().map(approach -> approach.sections()).toList());
  }

  @ParameterizedTest(name = "{0} groups")
  @ValueSource(ints = {1, 10, 100})
  void draftOfAGeneratedLineHasItsRoutes(int groups) {
    GeneratedLine line = new GeneratedLine(groups);
    Layout layout = line.layout();
    assertEquals(Way.all(line.table(layout)), Way.all(drafted(layout)));
  }

  // 49 CFR 236.404: opposing routes from neighbouring control points; each pair in one row.
  @Test
  void routesThatLeadTrainsFaceToFaceAreKeptApart() {
    Map<String, RouteRow> rows = drafted(layout(text(PLAIN, "layout.yaml"))).routes();
    List<String> opposing = List.of("c4w-m2w", "c6w-m2w", "c8w-m2w");
    assertEquals(opposing, rows.get("t4e-m2e").conflicts());
    assertEquals(opposing, rows.get("t6e-m2e").conflicts());
    assertEquals(
        Set.of("t4e-m2e", "t6e-m2e"),
        rows.values().stream()
            .filter(row -> !row.conflicts().isEmpty())
            .map(RouteRow::id)
            .collect(Collectors.toSet()));
  }

  // 49 CFR 236.405, 236.769: between control points, with the signals that the plan calls
  // automatic.
  @Test
  void routesIntoALineFromBothEndsAreKeptApartByItsTraffic() {
    Layout layout = layout(text("demo", "layout.yaml"));
    TrafficLine owners = table(text("demo", "rules.yaml"), layout).lines().get("midway");
    ControlTable drafted = drafted(layout);
    TrafficLine line = drafted.lines().get("mid-west-to-mid-east");
    assertEquals(Set.of("mid-west-to-mid-east"), drafted.lines().keySet());
    assertEquals(List.copyOf(owners.sections()), List.copyOf(line.sections()));
    owners
        .signals()
        .forEach(
            (heading, signals) ->
                assertEquals(Set.copyOf(signals), Set.copyOf(line.signals().get(heading))));
    assertEquals(Set.of("m2e-c2e", "m2w-t8w"), automatic(drafted));
    drafted.routes().values().forEach(row -> assertEquals(List.of(), row.conflicts(), row.id()));
  }

  // An automatic signal locks nothing: from one that leads off the line, routes are lined.
  @Test
  void signalThatLeadsOffTheLineIsNoAutomaticOne() {
    String spur =
        text("demo", "layout.yaml")
            .replaceFirst(
                "( *)approach: 0A.57.00.00.03.00.41.01",
                "$0\n$1diverging-approach: 0A.57.00.00.03.00.41.03");
    ControlTable drafted = drafted(layout(spur));
    assertEquals(Set.of("m2w-t8w"), automatic(drafted));
    assertEquals(List.of("m2e-c2e", "m2e-quarry-end"), idsFrom("m2e", drafted));
  }

  // Trains turn back where track ends: traffic that was set for one would never be set for its
  // return.
  @Test
  void trackThatEndsIsNoLine() {
    String ending =
        """
        layout: 1
        name: Ending
        joints: {a: [0, 0], b: [2, 0], c: [4, 0], d: [6, 0]}
        sections:
          one: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
          two: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
          three: {between: [c, d], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        signals:
          a2e: {at: a, into: one, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01}}
          b2w: {at: b, into: one, kind: automatic, shows: {stop: 0A.00.00.00.00.01.42.00, approach: 0A.00.00.00.00.01.42.01}}
          b2e: {at: b, into: two, kind: automatic, shows: {stop: 0A.00.00.00.00.01.43.00, approach: 0A.00.00.00.00.01.43.01}}
          d2w: {at: d, into: three, kind: automatic, shows: {stop: 0A.00.00.00.00.01.44.00, approach: 0A.00.00.00.00.01.44.01}}
        """;
    ControlTable drafted = drafted(layout(ending));
    assertEquals(Map.of(), drafted.lines());
    assertEquals(Set.of(), automatic(drafted));
    assertEquals(List.of("d2w-b2w"), drafted.routes().get("a2e-b2e").conflicts());
  }

  private static Set<String> automatic(ControlTable table) {
    return table.routes().values().stream()
        .filter(RouteRow::automatic)
        .map(RouteRow::id)
        .collect(Collectors.toSet());
  }

  private static List<String> idsFrom(String signal, ControlTable table) {
    return table.routesFrom(signal).stream().map(RouteRow::id).toList();
  }

  // The look-back of GK/RT0063: a train before the signal in rear sees by its aspect how this one
  // stands.
  @Test
  void approachReachesBackBeforeTheSignalInRear() {
    Map<String, RouteRow> rows = drafted(layout(text(PLAIN, "layout.yaml"))).routes();
    assertEquals(List.of("mid-east", "mid-west"), rows.get("c2e-j15").approach());
    assertEquals(List.of("yard-lead", "yard-throat"), rows.get("c8w-m2w").approach());
    assertEquals(List.of("fallow-1"), rows.get("f2e-t2e").approach());
  }

  // Interlocking sheet, G, scaling: about 10 to 15 s for an approach of 2 m at 0.3 m/s.
  @Test
  void releaseIsTheTimeToRunUpToTheSignalAndStop() {
    String text = text("starter", "layout.yaml").replace("length: 3 m", "length: 2 m");
    assertEquals(
        Duration.ofSeconds(12), drafted(layout(text)).routes().get("w2e-main-end").release());
  }

  @Test
  void routeIntoUnsignalledSwitchesEndsBeforeThemAndSaysSo() {
    String draft = RuleDraft.of(layout(text(PLAIN, "layout.yaml"))).text();
    assertTrue(
        draft.contains(
            "  # Ends at joint j15: no signal governs this way what lies beyond it.\n"
                + "  - {from: c2e, to: j15,"),
        draft);
  }

  /**
   *
   *
   * <pre>
   *   w ── a (a2e) ── os1 (s1) ── b ── main ── c
   *                      '─ x ─.
   *   v ── spur ── d ──────── os2 (s2) ── f ── spur-e ── g
   * </pre>
   */
  private static final String CROSSOVER =
      """
      layout: 1
      name: Crossover
      joints: {w: [0, 1], a: [2, 1], b: [4, 1], c: [8, 1], x: [4, 0.5], v: [0, 0], d: [4, 0], f: [6, 0], g: [8, 0]}
      sections:
        near: {between: [w, a], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
        os1: {length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        main: {between: [b, c], length: 1 m, occupied: 0A.00.00.00.00.01.13.01, clear: 0A.00.00.00.00.01.13.00}
        spur: {between: [v, d], length: 1 m, occupied: 0A.00.00.00.00.01.14.01, clear: 0A.00.00.00.00.01.14.00}
        os2: {length: 1 m, occupied: 0A.00.00.00.00.01.15.01, clear: 0A.00.00.00.00.01.15.00}
        spur-e: {between: [f, g], length: 1 m, occupied: 0A.00.00.00.00.01.16.01, clear: 0A.00.00.00.00.01.16.00}
      switches:
        s1:
          section: os1
          points: a
          normal: b
          reverse: x
          to: {normal: 0A.00.00.00.00.01.21.00, reverse: 0A.00.00.00.00.01.21.01}
          at: {normal: 0A.00.00.00.00.01.31.00, reverse: 0A.00.00.00.00.01.31.01}
        s2:
          section: os2
          points: f
          normal: d
          reverse: x
          to: {normal: 0A.00.00.00.00.01.22.00, reverse: 0A.00.00.00.00.01.22.01}
          at: {normal: 0A.00.00.00.00.01.32.00, reverse: 0A.00.00.00.00.01.32.01}
      signals:
        a2e: {at: a, into: os1, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, diverging-approach: 0A.00.00.00.00.01.41.03}}
      """;

  // H.13; flank protection: common practice, no source.
  @Test
  void otherEndOfACrossoverTurnsOthersAway() {
    RuleDraft draft = RuleDraft.of(layout(CROSSOVER));
    Map<String, RouteRow> rows = table(draft.text(), layout(CROSSOVER)).routes();
    assertEquals(Map.of("s2", Position.NORMAL), rows.get("a2e-c").flank());
    assertEquals(Map.of(), rows.get("a2e-g").flank());
    assertTrue(draft.text().contains("  # Switch s2 normal turns others away.\n"), draft.text());
  }

  @Test
  void signalThatFacesTheRouteNeedsNoSwitchBehindIt() {
    String held =
        CROSSOVER
            + "  x2w: {at: x, into: os1, shows: {stop: 0A.00.00.00.00.01.42.00, diverging-approach: 0A.00.00.00.00.01.42.03}}\n";
    assertEquals(Map.of(), drafted(layout(held)).routes().get("a2e-c").flank());
  }

  @Test
  void switchThatAParallelRouteWantsTheOtherWayIsNotAskedFor() {
    String parallel =
        CROSSOVER
            + "  x2e: {at: x, into: os2, shows: {stop: 0A.00.00.00.00.01.42.00, diverging-approach: 0A.00.00.00.00.01.42.03}}\n";
    RuleDraft draft = RuleDraft.of(layout(parallel));
    Map<String, RouteRow> rows = table(draft.text(), layout(parallel)).routes();
    assertEquals(Map.of(), rows.get("a2e-c").flank());
    assertTrue(
        draft
            .text()
            .contains(
                "  # Switch s2 could turn others away, but x2e-g wants it the other way at the same"
                    + " time.\n"),
        draft.text());
  }

  // The row says it once: one end counts for all that moves together.
  @Test
  void otherEndOfACrossoverThatMovesWithItIsNotAskedForOnceMore() {
    String together =
        CROSSOVER.replace(
            "    to: {normal: 0A.00.00.00.00.01.22.00, reverse: 0A.00.00.00.00.01.22.01}\n",
            "    with: s1\n");
    Map<String, RouteRow> rows = drafted(layout(together)).routes();
    assertEquals(Set.of("a2e-c", "a2e-g"), rows.keySet());
    rows.values().forEach(row -> assertEquals(Map.of(), row.flank(), row.id()));
  }

  @Test
  void ofSwitchesThatMoveTogetherOneIsAskedFor() {
    String paired =
        published("abrial-train-system")
            .replaceAll("(sJ: .*reverse: KJ), to: \\{[^}]*\\}", "$1, with: sI");
    Map<String, RouteRow> rows = drafted(layout(paired)).routes();
    assertEquals(Map.of("sJ", Position.NORMAL), rows.get("S-L-G0").flank());
    assertEquals(Map.of("sF", Position.NORMAL), rows.get("S-L-N0").flank());
  }

  @Test
  void switchThatAHandThrowsIsAskedToLieAsItIsLeft() {
    RuleDraft draft = RuleDraft.of(layout(byHand(CROSSOVER)));
    Map<String, RouteRow> rows = table(draft.text(), layout(byHand(CROSSOVER))).routes();
    assertEquals(Map.of("s2", Position.NORMAL), rows.get("a2e-c").flank());
    assertTrue(
        draft
            .text()
            .contains(
                "  # Switch s2 normal turns others away; it is thrown by hand, and the route waits"
                    + " until it lies so.\n"),
        draft.text());
  }

  @Test
  void switchThatAHandWouldHaveToThrowIsNotAskedFor() {
    String swapped =
        byHand(CROSSOVER)
            .replace("    normal: d\n    reverse: x\n", "    normal: x\n    reverse: d\n");
    RuleDraft draft = RuleDraft.of(layout(swapped));
    assertEquals(Map.of(), table(draft.text(), layout(swapped)).routes().get("a2e-c").flank());
    assertTrue(
        draft
            .text()
            .contains(
                "  # Switch s2 could turn others away, but it is thrown by hand, and no route could"
                    + " call it reverse.\n"),
        draft.text());
  }

  private static String byHand(String layout) {
    return layout.replace(
        "    to: {normal: 0A.00.00.00.00.01.22.00, reverse: 0A.00.00.00.00.01.22.01}\n",
        "    control: hand\n");
  }

  // C.5, rule 2 and 236.23: where there is no event for an aspect, a more restrictive one is shown.
  @Test
  void signalWithoutAnEventShowsSomethingMoreRestrictive() {
    String without =
        text(PLAIN, "layout.yaml").replace("      clear: 0A.57.00.00.02.00.42.02\n", "");
    RuleDraft draft = RuleDraft.of(layout(without));
    ControlTable table = table(draft.text(), layout(without));
    RouteRow row = table.routes().get("t4e-m2e");
    assertEquals("main-without-clear", row.speed());
    assertEquals(
        Map.of(
            "stop", "approach",
            "approach", "approach",
            "clear", "approach",
            "diverging-approach", "approach-diverging",
            "diverging-clear", "approach-diverging",
            "approach-diverging", "approach"),
        table.ladderOf(row).beyond());
    assertEquals("main", table.routes().get("m2e-c2e").speed());
    assertEquals(
        List.of(
            "signal 't4e' could come to show clear and has no event for it; add 'clear: <event id>'"
                + " under its shows; as drafted it shows approach instead"),
        told(draft.lacks()));
  }

  // H.15: a signal that has only Clear must not show it before Stop.
  @Test
  void routeWhoseSignalLacksItsLowestAspectIsLeftOut() {
    String without =
        text("starter", "layout.yaml")
            .replace(
                "      approach: 0A.00.00.00.00.03.01.01\n",
                "      clear: 0A.00.00.00.00.03.01.01\n");
    RuleDraft draft = RuleDraft.of(layout(without));
    assertEquals(
        Set.of("w2e-main-end", "w2e-siding-end", "w6w-west-end"),
        table(draft.text(), layout(without)).routes().keySet());
    assertTrue(
        draft
            .text()
            .contains(
                "  # Left out: w4w has no event for approach. With one it could read:\n"
                    + "  # - {from: w4w, to: west-end, switches: {w1: normal},"),
        draft.text());
    assertEquals(
        List.of(
            "signal 'w4w' has no event for approach, so that its route to west-end is left out;"
                + " add 'approach: <event id>' under its shows"),
        told(draft.lacks()));
  }

  @Test
  void draftOfALayoutWithoutAspectsIsReadAllTheSame() {
    String without =
        text("starter", "layout.yaml").replaceAll("      (diverging-)?approach: .*\n", "");
    assertEquals(Map.of(), drafted(layout(without)).routes());
  }

  @Test
  void secondWayBetweenTheSameEndsGetsANameOfItsOwn() {
    String ladder =
        CROSSOVER
            .replace("normal: d\n", "normal: h\n")
            .replace("d: [4, 0],", "d: [4, 0], h: [5, 0.2],")
            .replace("spur: {between: [v, d]", "spur: {between: [b, h]")
            .replace("v: [0, 0], d: [4, 0], ", "")
            .replace("main: {between: [b, c]", "main: {between: [g, c]");
    assertEquals(Set.of("a2e-c", "a2e-c-2"), drafted(layout(ladder)).routes().keySet());
  }

  // A loop of track with one signal: its approach lies on its own way.
  @Test
  void routeRoundALoopIsTimedAlways() {
    String round =
        """
        layout: 1
        name: |
          Round
          and round
        joints: {a: [0, 0], b: [4, 0]}
        sections:
          there: {between: [a, b], length: 1 m, occupied: 0A.00.00.00.00.01.11.01, clear: 0A.00.00.00.00.01.11.00}
          back: {between: [b, a], length: 1 m, occupied: 0A.00.00.00.00.01.12.01, clear: 0A.00.00.00.00.01.12.00}
        signals:
          s: {at: a, into: there, shows: {stop: 0A.00.00.00.00.01.41.00, approach: 0A.00.00.00.00.01.41.01, clear: 0A.00.00.00.00.01.41.02}}
        """;
    RouteRow row = drafted(layout(round)).routes().get("s-s");
    assertEquals(List.of("there", "back"), row.path());
    assertEquals(List.of(), row.approach());
  }

  private static ControlTable drafted(Layout layout) {
    return table(RuleDraft.of(layout).text(), layout);
  }

  private static Layout layout(String text) {
    Problems problems = new Problems();
    var layout = LayoutReader.read("layout.yaml", text, problems);
    assertEquals(List.of(), problems.sorted());
    return layout.orElseThrow();
  }

  private static ControlTable table(String rules, Layout layout) {
    Problems problems = new Problems();
    var table = RuleReader.read("draft", rules, layout, problems);
    assertEquals(List.of(), problems.sorted(), rules);
    return table.orElseThrow();
  }

  private static List<String> told(List<Problem> problems) {
    return problems.stream().map(problem -> problem.wrong() + "; " + problem.meant()).toList();
  }

  private static String published(String name) {
    return text("../rules/src/test/resources/published-layouts", name + ".yaml");
  }

  private static String text(String folder, String file) {
    try {
      return Files.readString(CONFIG.resolve(folder).resolve(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
