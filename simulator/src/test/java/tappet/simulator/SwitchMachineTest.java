package tappet.simulator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import tappet.layout.Position;

/** How a switch machine moves, over a throw of 100. Common practice, no source. */
class SwitchMachineTest {

  private final SwitchMachine machine = new SwitchMachine(100);

  @Test
  void switchLiesNowhereUntilItsThrowIsOver() {
    machine.call(Position.REVERSE, 1_000);
    assertEquals(Optional.empty(), machine.lies());
    assertFalse(machine.advance(1_099));
    assertEquals(Optional.empty(), machine.lies());
    assertTrue(machine.advance(1_100));
    assertEquals(Optional.of(Position.REVERSE), machine.lies());
  }

  @Test
  void switchTurnedRoundInMotionTakesAsLongBackAsItCame() {
    machine.call(Position.REVERSE, 1_000);
    machine.call(Position.NORMAL, 1_030);
    assertEquals(OptionalLong.of(1_060), machine.deadlineNs());
    machine.advance(1_060);
    assertEquals(Optional.of(Position.NORMAL), machine.lies());
  }

  @Test
  void switchCalledToWhereItLiesStays() {
    machine.call(Position.NORMAL, 1_000);
    assertEquals(OptionalLong.empty(), machine.deadlineNs());
    assertEquals(Optional.of(Position.NORMAL), machine.lies());
  }

  @Test
  void failedSwitchStaysWhereItLies() {
    machine.fail(1_000);
    machine.call(Position.REVERSE, 1_000);
    assertFalse(machine.advance(9_000));
    assertEquals(Optional.of(Position.NORMAL), machine.lies());
    assertEquals(OptionalLong.empty(), machine.deadlineNs());
  }

  @Test
  void switchThatFailsInMotionLiesNowhereAndGoesOnWhenMended() {
    machine.call(Position.REVERSE, 1_000);
    machine.fail(1_040);
    machine.advance(9_000);
    assertEquals(Optional.empty(), machine.lies());
    assertEquals(Position.NORMAL, machine.lay());
    machine.mend(9_000);
    assertEquals(OptionalLong.of(9_060), machine.deadlineNs());
  }
}
