package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import tappet.layout.Position;

/** S-9.7.0.4 §5.2; TN-9.7.0.4 §2.5.2: what the events do is for us to say, so it is said here. */
class EmergencyTest {

  @ParameterizedTest
  @EnumSource(Emergency.class)
  void emergencyPutsEverySignalToStop(Emergency kind) {
    var desk = Desk.demo();
    desk.order("line f2e to t2e");
    desk.order("line t4e to m2e");
    desk.pass(2.0);
    assertEquals(List.of("f2e", "t4e"), desk.proceeding());
    desk.emergency(kind, true);
    assertEquals(List.of(), desk.proceeding());
  }

  @ParameterizedTest
  @EnumSource(Emergency.class)
  void nothingClearsAgainByItselfWhenTheEmergencyIsCleared(Emergency kind) {
    var desk = Desk.demo();
    desk.order("line f2e to t2e");
    desk.pass(2.0);
    desk.emergency(kind, true);
    desk.emergency(kind, false);
    desk.pass(60.0);
    assertEquals("stop", desk.shows("f2e"));
    assertTrue(desk.locked("f2e-t2e"));
    desk.order("line f2e to t2e");
    assertEquals("approach", desk.shows("f2e"));
  }

  // What was lined and has not been shown yet, since its switch still moves, is put back as well.
  @ParameterizedTest
  @EnumSource(Emergency.class)
  void routeThatWaitedForItsSwitchDoesNotClearWhenTheEmergencyIsCleared(Emergency kind) {
    var desk = Desk.demo();
    desk.throwTime(3.0);
    desk.order("line t2e to t6e");
    desk.pass(1.0);
    desk.emergency(kind, true);
    desk.pass(60.0);
    assertEquals(Optional.of(Position.REVERSE), desk.lie("t1"));
    desk.emergency(kind, false);
    desk.pass(60.0);
    assertEquals("stop", desk.shows("t2e"));
    assertTrue(desk.locked("t2e-t6e"));
    desk.order("line t2e to t6e");
    assertEquals("diverging-approach", desk.shows("t2e"));
  }

  @ParameterizedTest
  @EnumSource(Emergency.class)
  void neitherRouteNorSwitchIsGivenWhileAnEmergencyStands(Emergency kind) {
    var desk = Desk.demo();
    desk.emergency(kind, true);
    desk.movements();
    assertFalse(desk.tell("line f4e to t2e").granted());
    assertFalse(desk.tell("throw y1 reverse").granted());
    assertEquals(List.of(), desk.movements());
    desk.emergency(kind, false);
    assertTrue(desk.tell("throw y1 reverse").granted());
  }

  @Test
  void oneEmergencyClearedLeavesTheOtherStanding() {
    var desk = Desk.demo();
    desk.emergency(Emergency.OFF, true);
    desk.emergency(Emergency.STOP, true);
    desk.emergency(Emergency.OFF, false);
    assertFalse(desk.tell("line f2e to t2e").granted());
    assertTrue(desk.why("f2e").contains("an emergency stop stands"), desk.why("f2e"));
  }
}
