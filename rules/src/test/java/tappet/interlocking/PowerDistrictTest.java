package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.sentence.Condition.Occupancy;

/** 49 CFR 236.5, S13: a detector without power tells nothing, whatever it says. */
class PowerDistrictTest {

  private static final String TRIPPED =
      "power district west (West end) is tripped; unknown: sections west-far, west-near";

  // H.8: what was never heard is not "restored".
  @Test
  void sectionsOfADistrictThatHasNotReportedAreUnknown() {
    var desk = Desk.ready(Lane.withDistrict(""));
    assertEquals(Occupancy.UNKNOWN, desk.interlocking.occupancy("west-near"));
    assertFalse(desk.tell("line w0e to w2e").granted());
    assertEquals(
        """
        section west-near is unknown:
          power district west (West end) has not reported whether it is tripped or restored
        """,
        desk.why("west-near"));
    assertTrue(desk.tell("line e0w to e2w").granted(), "the other end has power of its own");
  }

  @Test
  void trippedBreakerPutsSignalsIntoItsDistrictToStopAndIsTold() {
    var desk = powered("");
    desk.order("line w0e to w2e");
    desk.order("line e0w to e2w");
    assertEquals(List.of("w0e", "e0w"), desk.proceeding());
    desk.changes();
    trip(desk);
    assertEquals(List.of("e0w"), desk.proceeding());
    assertEquals(List.of(TRIPPED), desk.interlocking.alarms());
    assertTrue(desk.changes().contains(TRIPPED));
    assertTrue(
        desk.why("w0e").contains("power district west (West end) is tripped"), desk.why("w0e"));
  }

  @Test
  void nothingIsClearOrClearsByItselfWhenPowerIsRestored() {
    var desk = powered("");
    desk.order("line w0e to w2e");
    trip(desk);
    restore(desk);
    desk.pass(60.0);
    assertEquals(List.of(), desk.interlocking.alarms());
    assertEquals(Occupancy.UNKNOWN, desk.interlocking.occupancy("west-far"), "it spoke before");
    reportAgain(desk);
    assertEquals(Occupancy.CLEAR, desk.interlocking.occupancy("west-far"));
    desk.pass(60.0);
    assertEquals(List.of(), desk.proceeding());
    assertTrue(desk.locked("w0e-w2e"));
    desk.order("line w0e to w2e");
    assertEquals(List.of("w0e"), desk.proceeding());
  }

  // H.8: most current detectors report clear when the track has no power.
  @Test
  void detectorThatSaysClearWithoutPowerIsNotBelieved() {
    var desk = powered("");
    desk.occupy("west-near");
    trip(desk);
    reportAgain(desk);
    desk.pass(60.0);
    assertEquals(Occupancy.UNKNOWN, desk.interlocking.occupancy("west-near"));
    assertFalse(desk.tell("line w0e to w2e").granted());
    restore(desk);
    desk.pass(60.0);
    assertEquals(Occupancy.UNKNOWN, desk.interlocking.occupancy("west-near"));
    assertFalse(desk.tell("line w0e to w2e").granted());
  }

  @Test
  void districtThatIsLostIsAsGoodAsTripped() {
    var desk = powered("");
    desk.order("line w0e to w2e");
    desk.hears(new Input.DistrictReport("west", Optional.empty()));
    assertEquals(List.of(), desk.proceeding());
    restore(desk);
    assertEquals(Occupancy.UNKNOWN, desk.interlocking.occupancy("west-far"));
  }

  // 236.302: what a train has taken stays taken, power or not.
  @Test
  void routeOfATrainWithoutPowerStaysLocked() {
    var desk = powered("");
    desk.order("line w0e to w2e");
    desk.occupy("west-far");
    trip(desk);
    desk.pass(60.0);
    restore(desk);
    reportAgain(desk);
    desk.pass(60.0);
    assertTrue(desk.locked("w0e-w2e"));
  }

  // H.8, 236.302: without power most detectors say nothing that counts, "occupied" included. A
  // route whose train has not come stays locked before it, and can be cleared again.
  @Test
  void detectorWithoutPowerIsNoTrainThatHasEntered() {
    var desk = powered("");
    desk.order("line w0e to w2e");
    trip(desk);
    desk.occupy("west-far");
    desk.occupy("west-near");
    restore(desk);
    reportAgain(desk);
    desk.pass(60.0);
    assertTrue(desk.locked("w0e-w2e"));
    assertFalse(desk.why("w0e").contains("has entered"), desk.why("w0e"));
    desk.order("line w0e to w2e");
    assertEquals(List.of("w0e"), desk.proceeding());
    desk.runs("west-far", "west-near");
    assertFalse(desk.locked("w0e-w2e"), "the train itself does release it");
  }

  @ParameterizedTest
  @CsvSource({
    "district west is tripped, true, true",
    "district west is tripped, false, false",
    "district west is tripped, , false",
    "district west is not tripped, false, true",
    "district west is not tripped, true, false",
    "district west is not tripped, , false", // H.8
  })
  void conditionHoldsOnlyWhereItIsKnownToHold(String need, Boolean tripped, boolean granted) {
    var desk = Desk.ready(Lane.withDistrict("also: [{signal: e0w, needs: %s}]\n".formatted(need)));
    desk.hears(new Input.DistrictReport("west", Optional.ofNullable(tripped)));
    assertEquals(granted, desk.tell("line e0w to e2w").granted());
  }

  /** The lane in daily use. */
  private static Desk powered(String rules) {
    var desk = Desk.ready(Lane.withDistrict(rules));
    restore(desk);
    reportAgain(desk);
    desk.steady();
    return desk;
  }

  private static void trip(Desk desk) {
    desk.hears(new Input.DistrictReport("west", Optional.of(true)));
  }

  private static void restore(Desk desk) {
    desk.hears(new Input.DistrictReport("west", Optional.of(false)));
  }

  private static void reportAgain(Desk desk) {
    for (String section : List.of("west-far", "west-near")) {
      desk.unknown(section);
      desk.clear(section);
    }
  }
}
