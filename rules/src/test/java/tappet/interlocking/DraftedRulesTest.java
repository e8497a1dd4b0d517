package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
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
}
