package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tappet.layout.Layout;
import tappet.layout.LayoutReader;
import tappet.rules.RouteRow;
import tappet.rules.draft.RuleDraft;
import tappet.source.Problems;

/** Drafted rules are compiled and worked by. */
class DraftedRulesTest {

  static List<String> layouts() {
    return List.of(
        Desk.plain("layout.yaml"),
        Desk.config("starter/layout.yaml"),
        Siding.LAYOUT,
        Kinds.LAYOUT,
        Throat.LAYOUT);
  }

  // F.2 L1, H.18: not safe for being dead. Each route can be lined, and its signal clears.
  @ParameterizedTest
  @MethodSource("layouts")
  void everyDraftedRouteCanBeLinedAndItsSignalClears(String text) {
    Layout layout = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    Desk.Railroad railroad = Desk.Railroad.read(text, RuleDraft.of(layout).text());
    assertTrue(railroad.table().routes().size() > 0);
    for (RouteRow row : railroad.table().routes().values()) {
      Desk desk = Desk.ready(railroad);
      desk.line(row);
      assertEquals(railroad.table().ladderOf(row).lowest(), desk.shows(row.from()), row.id());
    }
  }

  // 49 CFR 236.204, 236.405: a drafted line keeps trains apart, and its signals follow its traffic.
  @Test
  void draftedLineIsRunOneWayAtATime() {
    String text = Between.LAYOUT.replaceAll("(m2[ew]: \\{)", "$1kind: automatic, ");
    Layout layout = LayoutReader.read("layout.yaml", text, new Problems()).orElseThrow();
    Desk desk = Desk.ready(Desk.Railroad.read(text, RuleDraft.of(layout).text()));
    desk.order("line b2e to m2e");
    assertEquals(List.of("b2e", "m2e"), desk.proceeding());
    assertTrue(
        desk.refused("line d2w to m2w").contains("traffic on mid-1-to-mid-2 is set east"),
        desk.why("d2w"));
    desk.runs("west", "mid-1", "mid-2");
    desk.refused("line d2w to m2w");
    desk.order("line c4e to e");
    desk.pass(1.0);
    desk.moves("mid-2", "east-os");
    desk.moves("east-os", "east");
    desk.order("line d2w to m2w");
    assertEquals(List.of("m2w", "d2w"), desk.proceeding());
  }
}
