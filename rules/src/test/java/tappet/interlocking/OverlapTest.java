package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Overlaps: track beyond the exit signal kept free in case a train runs past (glossary B). */
class OverlapTest {

  private static Desk desk() {
    return Throat.overlap();
  }

  // D.1: sections clear in the overlap are proved like those of the route.
  @Test
  void overlapMustBeClear() {
    var desk = desk();
    desk.occupy("second");
    var refused = desk.tell("line a2e to m2e");
    assertFalse(refused.granted());
    desk.clear("second");
    desk.steady();
    desk.order("line a2e to m2e");
    assertEquals("approach", desk.shows("a2e"));
    desk.occupy("second");
    assertEquals("stop", desk.shows("a2e"));
  }

  // D.1: switches in the overlap are set and locked.
  @Test
  void switchOfTheOverlapIsCalledAndLocked() {
    var desk = desk();
    desk.order("throw s2 reverse");
    desk.pass(1.0);
    desk.order("line a2e to m2e");
    assertEquals("stop", desk.shows("a2e"));
    desk.pass(1.0);
    assertEquals("approach", desk.shows("a2e"));
    assertTrue(desk.holds("s2"));
  }

  // H.13: a route into the overlap is refused while it is locked.
  @Test
  void nobodyElseIsLinedIntoTheOverlap() {
    var desk = desk();
    desk.order("line a2e to m2e");
    assertFalse(desk.tell("line t2e to z").granted());
  }

  // G, "overlap timeout in a published example": the train has come to a stand when time has run.
  @Test
  void overlapIsReleasedWhenTheTrainHasStoodForItsTime() {
    var desk = desk();
    desk.order("line a2e to m2e");
    desk.runs("near", "first", "middle");
    assertTrue(desk.locked("a2e-m2e"));
    assertTrue(desk.why("a2e-m2e").contains("the overlap of route a2e-m2e is locked"));
    desk.pass(7.4);
    assertTrue(desk.locked("a2e-m2e"));
    assertFalse(desk.tell("line t2e to z").granted());
    desk.pass(0.2);
    assertFalse(desk.locked("a2e-m2e"));
    desk.order("line t2e to z");
  }

  // A train that may run on needs no overlap: its own route protects it.
  @Test
  void nextRouteTakesOverFromTheOverlap() {
    var desk = desk();
    desk.order("line a2e to m2e");
    desk.order("line m2e to z");
    assertEquals("approach", desk.shows("m2e"));
    desk.runs("near", "first", "middle");
    assertFalse(desk.locked("a2e-m2e"));
    assertTrue(desk.locked("m2e-z"));
  }

  // 49 CFR 236.773: the next route that is locked may be that of the train ahead.
  @Test
  void nextRouteOfTheTrainAheadDoesNotReleaseTheOverlap() {
    var desk = Throat.farther();
    desk.order("line a2e to m2e");
    desk.order("line m2e to x");
    desk.runs("near", "first", "middle", "second", "last");
    assertTrue(desk.locked("m2e-x"));
    desk.order("line a2e to m2e");
    desk.runs("near", "first", "middle");
    assertTrue(desk.why("a2e-m2e").contains("the overlap of route a2e-m2e is locked"));
    desk.pass(8.0);
    assertFalse(desk.locked("a2e-m2e"));
    assertTrue(desk.locked("m2e-x"));
  }

  // It was to be run on by, and was given up before the train came.
  @Test
  void nextRouteThatWasGivenUpDoesNotReleaseTheOverlap() {
    var desk = desk();
    desk.order("line a2e to m2e");
    desk.order("line m2e to z");
    desk.order("cancel m2e");
    desk.pass(10.1);
    assertFalse(desk.locked("m2e-z"));
    desk.runs("near", "first", "middle");
    assertTrue(desk.locked("a2e-m2e"));
  }

  // A train longer than the last section has run on before it stands in that section alone.
  @Test
  void longTrainThatHasRunOnReleasesTheOverlap() {
    var desk = desk();
    desk.order("line a2e to m2e");
    desk.order("line m2e to z");
    desk.runs("near", "first");
    desk.occupy("middle");
    desk.occupy("second");
    assertEquals("stop", desk.shows("m2e"));
    desk.clear("first");
    desk.steady();
    assertFalse(desk.locked("a2e-m2e"));
  }

  @Test
  void cancellingReleasesTheOverlapWithTheRoute() {
    var desk = desk();
    desk.order("line a2e to m2e");
    desk.order("cancel a2e");
    assertFalse(desk.tell("line t2e to z").granted());
    desk.pass(10.1);
    assertFalse(desk.locked("a2e-m2e"));
    desk.order("line t2e to z");
  }

  // What the train leaves behind is free while the overlap is still locked.
  @Test
  void sectionsBehindTheTrainAreReleasedBeforeTheOverlap() {
    var desk = desk();
    desk.order("line a2e to m2e");
    desk.runs("near", "first", "middle");
    assertEquals(List.of(), desk.proceeding());
    assertFalse(desk.holds("s1"));
  }
}
