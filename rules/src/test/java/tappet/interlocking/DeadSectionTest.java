package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.layout.LayoutReader;
import tappet.source.Problems;

/** Dead sections: rails without detection (49 CFR 236.55). */
class DeadSectionTest {

  // 49 CFR 236.55: track without detection is forbidden: every section says both of itself.
  @ParameterizedTest
  @ValueSource(strings = {"occupied", "clear"})
  void sectionWithoutDetectionIsRefused(String event) {
    var problems = new Problems();
    var text = Throat.LAYOUT.replaceFirst("(middle: .*)" + event + ": [0-9A-F.]+,?", "$1");
    assertTrue(LayoutReader.read("layout.yaml", text, problems).isEmpty());
    assertEquals(1, problems.sorted().size(), problems.sorted()::toString);
    assertTrue(
        problems.sorted().get(0).toString().contains("section 'middle' lacks '" + event + "'"),
        problems.sorted()::toString);
  }

  // 49 CFR 236.55, H.12: while a train is lost from sight in a gap, the sections before and after
  // it stay held, and so does every switch in them.
  @Test
  void gapBetweenSectionsIsBridgedByTheHoldOfItsNeighbours() {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.pass(1.0);
    desk.clear("first");
    desk.pass(600.0);
    assertTrue(desk.holds("s1"));
    assertFalse(desk.tell("throw s1 reverse").granted());
    assertFalse(desk.tell("line a2e to s-end").granted());

    desk.occupy("middle");
    desk.steady();
    assertFalse(desk.holds("s1"));
    assertTrue(desk.holds("s2"));
  }
}
