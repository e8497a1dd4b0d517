package tappet.rules;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.source.Problems;

/** What a right rule file becomes; the wrong ones are in src/test/resources/wrong-rules. */
class RuleReaderTest {

  @ParameterizedTest
  @CsvSource({"demo, 22", "starter, 4"})
  void fileInConfigReadsWithoutAProblem(String folder, int routes) {
    var table = read(Demo.text(folder, "rules.yaml"), folder);
    assertEquals(routes, table.routes().size());
  }

  // Every way between signals of the demo that is run on signals has its row, as in its drawing.
  @Test
  void rowsOfTheDemoCoverEveryWayButThoseIntoTheYard() {
    var table = read(Demo.text(Demo.PLAIN, "rules.yaml"), Demo.PLAIN);
    for (var signal : Demo.LAYOUT.signals().values()) {
      for (var path : RouteFinder.pathsFrom(signal, Demo.PLAN)) {
        boolean yard = path.to().startsWith("yard-");
        var rows =
            table.routesFrom(signal.id()).stream()
                .filter(row -> row.to().equals(path.to()))
                .filter(row -> row.switches().equals(path.switches()))
                .toList();
        assertEquals(yard ? 0 : 1, rows.size(), path::toString);
      }
    }
  }

  @Test
  void rowKeepsWhatIsWrittenInIt() {
    var row =
        only(
            "{name: main-line, from: t2e, to: t4e, switches: {t1: normal}, clear: [tilling-main, tilling-w, tilling-siding],"
                + " flank: {t2: reverse}, speed: main, release: 1500 ms, approach: [west-main], not with: [main-line],"
                + " needs: switch y1 is normal}");
    assertEquals("main-line", row.id());
    assertEquals(Optional.of("t4e"), row.nextSignal());
    assertEquals(List.of("tilling-w", "tilling-main"), row.path());
    assertEquals(List.of("tilling-siding"), row.alsoClear());
    assertEquals(Map.of("t1", Position.NORMAL), row.switches());
    assertEquals(Map.of("t2", Position.REVERSE), row.flank());
    assertEquals(Duration.ofMillis(1500), row.release());
    assertEquals(List.of("west-main"), row.approach());
    assertEquals(List.of("main-line"), row.conflicts());
    assertEquals(true, row.needs().isPresent());
  }

  @Test
  void whatIsLeftOutComesFromThePlan() {
    var row = only("{from: m2e, to: c2e, speed: main, release: 8 s}");
    assertEquals("m2e-c2e", row.id());
    assertEquals(List.of("mid-east"), row.path());
    assertEquals(List.of(), row.alsoClear());
    assertEquals(List.of(), row.approach());
    assertEquals(Optional.empty(), row.needs());
  }

  @Test
  void routeToTheEndOfTrackHasNoNextSignal() {
    var row = only("{from: c2e, to: j15, switches: {c1: reverse}, speed: main, release: 8 s}");
    assertEquals(Optional.empty(), row.nextSignal());
    assertEquals(List.of("corvane-w", "yard-lead"), row.path());
  }

  // 49 CFR 236.305: without a word of the owner, the start takes as long as the longest release.
  @Test
  void startTimeIsTheLongestReleaseWhereItIsLeftOut() {
    var table =
        read(
            """
            rules: 1
            routes:
              - {from: m2e, to: c2e, speed: main, release: 8 s}
              - {from: m2w, to: t8w, speed: main, release: 30 s}
            aspects: {main: {beyond stop: approach}}
            """,
            Demo.PLAIN);
    assertEquals(new Times(Duration.ofSeconds(2), Duration.ofSeconds(30)), table.times());
  }

  /** Automatic rows have no release time of their own to take the start's from. */
  @Test
  void railroadWithoutADispatcherHasAStartTimeToo() {
    var table =
        read(
            """
            rules: 1
            routes:
              - {from: p, to: q, speed: main, automatic: yes}
              - {from: q, to: p, speed: main, automatic: yes}
            traffic: [{line: ring, sections: [north, south], eastward: [p, q]}]
            aspects: {main: {beyond stop: approach, beyond approach: approach}}
            """,
            Demo.layoutOf(Ring.LAYOUT));
    assertEquals(Duration.ofSeconds(1), table.times().start());
  }

  // A row that names a route further down is no mistake.
  @Test
  void needsMayNameRoutesThatStandFurtherDown() {
    var table =
        read(
            """
            rules: 1
            routes:
              - {from: m2e, to: c2e, speed: main, release: 8 s, needs: not route m2w-t8w is locked, not with: [m2w-t8w]}
              - {from: m2w, to: t8w, speed: main, release: 8 s}
            aspects: {main: {beyond stop: approach}}
            also: [{signal: m2w, needs: not route m2e-c2e is locked}]
            """,
            Demo.PLAIN);
    assertEquals("m2w", table.needs().get(0).id());
  }

  private static RouteRow only(String row) {
    var text = "rules: 1\nroutes:\n  - %s\naspects: {main: {beyond stop: approach}}\n";
    return read(text.formatted(row), Demo.PLAIN).routes().values().iterator().next();
  }

  private static ControlTable read(String text, String folder) {
    return read(text, Demo.layout(folder));
  }

  private static ControlTable read(String text, Layout layout) {
    var problems = new Problems();
    var table = RuleReader.read("rules.yaml", text, layout, problems);
    assertEquals(List.of(), problems.sorted());
    return table.orElseThrow();
  }
}
