package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.layout.Position.NORMAL;

import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Detector locking (common practice, no source; F.1 S3): no switch moves under a train. */
class DetectorLockingTest {

  static Set<String> switches() {
    return Desk.Railroad.DEMO.layout().switches().keySet();
  }

  @ParameterizedTest
  @MethodSource("switches")
  void occupiedSectionHoldsItsSwitches(String id) {
    var desk = Desk.demo();
    desk.occupy(sectionOf(desk, id));
    desk.movements();
    assertFalse(desk.tell("throw " + id + " reverse").granted());
    assertFalse(desk.tell("throw " + id + " normal").granted());
    assertEquals(List.of(), desk.movements());
  }

  // 49 CFR 236.5, H.8: what has not been heard is not clear.
  @ParameterizedTest
  @MethodSource("switches")
  void unknownSectionHoldsItsSwitches(String id) {
    var desk = Desk.demo();
    desk.unknown(sectionOf(desk, id));
    desk.movements();
    assertFalse(desk.tell("throw " + id + " reverse").granted());
    assertEquals(List.of(), desk.movements());
  }

  // H.18: with its section vacant and no route over it, it can be thrown.
  @ParameterizedTest
  @MethodSource("switches")
  void switchInAVacantSectionIsThrown(String id) {
    var desk = Desk.demo();
    desk.movements();
    assertTrue(desk.tell("throw " + id + " reverse").granted());
    assertEquals(List.of(id + " reverse"), desk.movements());
  }

  @Test
  void switchUnderATrainIsNotSentByARouteEither() {
    var desk = Desk.demo();
    desk.occupy("tilling-w");
    desk.movements();
    assertFalse(desk.tell("line t2e to t6e").granted());
    assertEquals(List.of(), desk.movements());
  }

  // F.1 S3: not even where it was called to; someone may have moved it by hand.
  @Test
  void switchUnderATrainIsNotSentOnceMore() {
    var desk = Desk.demo();
    desk.order("throw t1 reverse");
    desk.pass(1.0);
    desk.lies("t1", NORMAL);
    desk.occupy("tilling-w");
    desk.movements();
    assertFalse(desk.tell("throw t1 reverse").granted());
    assertEquals(List.of(), desk.movements());
  }

  private static String sectionOf(Desk desk, String id) {
    return desk.layout.switches().get(id).section();
  }
}
