package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

/** Needs that speak of the fast clock. */
class ClockConditionTest {

  private static final String MINE_HOURS =
      Siding.FOULING_RULES
          + "also:\n"
          + "  - {signal: b2e, needs: time is between 06:00 and 22:00}\n"
          + "  - {signal: e2e, needs: time is not between 06:00 and 22:00}\n";

  private static OptionalInt at(int hour) {
    return OptionalInt.of(hour * 60);
  }

  @Test
  void signalClearsWithinItsHoursOnly() {
    var desk = Desk.ready(Siding.LAYOUT, MINE_HOURS);
    desk.clock(at(5));
    assertFalse(desk.tell("line b2e to d").granted());
    desk.clock(at(6));
    desk.order("line b2e to d");
    assertEquals("approach", desk.shows("b2e"));
    desk.clock(at(22));
    assertEquals("stop", desk.shows("b2e"));
  }

  // 49 CFR 236.5: what is not known fulfils neither a condition nor its opposite.
  @Test
  void unknownTimeIsNeitherWithinNorOutside() {
    var desk = Desk.ready(Siding.LAYOUT, MINE_HOURS);
    assertFalse(desk.tell("line b2e to d").granted());
    assertFalse(desk.tell("line e2e to h").granted());
    assertTrue(desk.why("b2e").contains("the fast clock is not known"), desk.why("b2e"));
    desk.clock(at(23));
    assertTrue(desk.tell("line e2e to h").granted());
    desk.clock(OptionalInt.empty());
    assertEquals("stop", desk.shows("e2e"));
  }
}
