package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.Expression.all;
import static tappet.network.Expression.always;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;
import static tappet.network.Told.words;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Ticks, latches and pulses. The source of each claim is the package's own description. */
class StepperTest {

  private final NetworkBuilder builder = new NetworkBuilder();

  @ParameterizedTest(name = "{0} with set {1} and reset {2} becomes {3}")
  @CsvSource({
    "false, false, false, false",
    "false, false, true,  false",
    "false, true,  false, true",
    "false, true,  true,  false",
    "true,  false, false, true",
    "true,  false, true,  false",
    "true,  true,  false, true",
    "true,  true,  true,  false",
  })
  void resetWinsOverSetAndSetOverWhatWas(boolean was, boolean set, boolean reset, boolean becomes) {
    Variable setting = builder.input("setting", words("setting"));
    Variable resetting = builder.input("resetting", words("resetting"));
    Variable latch = latch("latch", was);
    builder.define(latch, is(setting), is(resetting));
    Stepper stepper = new Stepper(builder.build());
    assertEquals(was, stepper.value(latch));

    stepper.set(setting, set);
    stepper.set(resetting, reset);
    Told.by(stepper);
    assertEquals(becomes, stepper.value(latch));
  }

  @Test
  void latchesThatCopyEachOtherSwap() {
    Variable swap = builder.pulse("swap", words("swap"));
    Variable left = latch("left", true);
    Variable right = latch("right", false);
    copyWhen(swap, left, right);
    copyWhen(swap, right, left);
    Stepper stepper = new Stepper(builder.build());

    for (boolean leftIs : new boolean[] {false, true, false}) {
      stepper.pulse(swap);
      Told.by(stepper);
      assertEquals(leftIs, stepper.value(left));
      assertEquals(!leftIs, stepper.value(right));
    }
  }

  @Test
  void latchesPassAValueOnOneATick() {
    Variable go = builder.input("go", words("go"));
    Variable first = latch("first", false);
    Variable second = latch("second", false);
    Variable third = latch("third", false);
    builder.define(third, is(second), never());
    builder.define(second, is(first), never());
    builder.define(first, is(go), never());
    Stepper stepper = new Stepper(builder.build());

    stepper.set(go, true);
    assertEquals(List.of("go", "first", "second", "third"), Told.by(stepper));
  }

  @Test
  void latchRemembersWhenWhatSetItIsGone() {
    Variable go = builder.input("go", words("go"));
    Variable latch = latch("latch", false);
    builder.define(latch, is(go), never());
    Stepper stepper = new Stepper(builder.build());

    stepper.set(go, true);
    Told.by(stepper);
    stepper.set(go, false);
    assertEquals(List.of("not go"), Told.by(stepper));
    assertTrue(stepper.value(latch));
  }

  @Test
  void latchSetInTheTickInWhichAnotherIsResetSeesItStillSet() {
    Variable handOver = builder.pulse("hand over", words("hand over"));
    Variable giver = latch("giver", true);
    Variable taker = latch("taker", false);
    builder.define(giver, never(), is(handOver));
    builder.define(taker, all(is(giver), is(handOver)), never());
    Stepper stepper = new Stepper(builder.build());

    stepper.pulse(handOver);
    Told.by(stepper);
    assertFalse(stepper.value(giver));
    assertTrue(stepper.value(taker));
  }

  @Test
  void pulseLastsOneTick() {
    Variable pulse = builder.pulse("pulse", words("pulse"));
    builder.equation("follower", words("follower"), is(pulse));
    Variable atOnce = latch("at once", false);
    Variable tooLate = latch("too late", false);
    builder.define(atOnce, is(pulse), never());
    builder.define(tooLate, all(is(pulse), is(atOnce)), never());
    Stepper stepper = new Stepper(builder.build());

    stepper.pulse(pulse);
    assertEquals(
        List.of("pulse", "follower", "at once", "not pulse", "not follower"), Told.by(stepper));
    assertFalse(stepper.value(tooLate));
    assertEquals(List.of(), Told.by(stepper));
  }

  @Test
  void pulseFeedsAllItsLatchesInTheSameTick() {
    Variable pulse = builder.pulse("pulse", words("pulse"));
    Variable on = latch("on", false);
    Variable off = latch("off", true);
    Variable both = latch("both", false);
    builder.define(on, all(is(pulse), not(on)), never());
    builder.define(off, never(), all(is(pulse), not(on)));
    builder.define(both, all(is(pulse), not(on), is(off)), never());
    Stepper stepper = new Stepper(builder.build());

    stepper.pulse(pulse);
    Told.by(stepper);
    assertTrue(stepper.value(on));
    assertFalse(stepper.value(off));
    assertTrue(stepper.value(both));
  }

  @Test
  void pulseGivenTwiceBeforeAStepIsOnePulse() {
    Variable pulse = builder.pulse("pulse", words("pulse"));
    Stepper stepper = new Stepper(builder.build());

    stepper.pulse(pulse);
    stepper.pulse(pulse);
    assertEquals(List.of("pulse", "not pulse"), Told.by(stepper));
  }

  @Test
  void inputIsFeltInTheNextStepAndNotBefore() {
    Variable input = builder.input("input", words("input"));
    Variable equation = builder.equation("equation", words("equation"), is(input));
    Stepper stepper = new Stepper(builder.build());

    stepper.set(input, true);
    assertFalse(stepper.value(equation));
    assertEquals(List.of("input", "equation"), Told.by(stepper));
    assertTrue(stepper.value(equation));
  }

  @Test
  void inputLaidOnAndTakenOffBeforeAStepMovesNothingElse() {
    Variable input = builder.input("input", words("input"));
    Variable latch = latch("latch", false);
    builder.equation("equation", words("equation"), is(input));
    builder.define(latch, is(input), never());
    Stepper stepper = new Stepper(builder.build());

    stepper.set(input, true);
    stepper.set(input, false);
    assertEquals(List.of("input", "not input"), Told.by(stepper));
  }

  @Test
  void stepInWhichNothingChangesIsSilent() {
    Variable input = builder.input("input", words("input"));
    Stepper stepper = new Stepper(builder.build());

    stepper.set(input, true);
    Told.by(stepper);
    stepper.set(input, true);
    assertEquals(List.of(), Told.by(stepper));
  }

  @Test
  void firstStepTellsWhatIsTrueFromTheBeginning() {
    Variable latch = latch("latch", true);
    builder.define(latch, never(), never());
    builder.equation("constant", words("constant"), always());
    builder.equation("dark", words("dark"), never());
    Stepper stepper = new Stepper(builder.build());

    assertEquals(List.of("latch", "constant"), Told.by(stepper));
    assertEquals(List.of(), Told.by(stepper));
  }

  @Test
  void networkWithoutVariablesSteps() {
    assertEquals(List.of(), Told.by(new Stepper(builder.build())));
  }

  @Test
  void swingingNetworkNamesALatchThatSwings() {
    Variable start = builder.input("start", words("start"));
    Variable resting = latch("resting", false);
    Variable bell = latch("bell", false);
    builder.define(resting, is(start), never());
    builder.define(bell, all(is(start), not(bell)), is(bell));
    Stepper stepper = new Stepper(builder.build());

    stepper.set(start, true);
    UnsettledException thrown = assertThrows(UnsettledException.class, () -> Told.by(stepper));
    assertEquals("not settled after 1000 ticks; 'bell' still changes", thrown.getMessage());
  }

  @Test
  void networkThatSwingsFromTheBeginningIsRefused() {
    Variable left = latch("left", true);
    Variable right = latch("right", false);
    builder.define(left, is(right), not(right));
    builder.define(right, is(left), not(left));
    Network network = builder.build();

    assertThrows(UnsettledException.class, () -> new Stepper(network));
  }

  @Test
  void networkThatSwungComesToRestWhenTheCauseIsTakenAway() {
    Variable start = builder.input("start", words("start"));
    Variable bell = latch("bell", false);
    Variable rings = builder.equation("rings", words("rings"), is(bell));
    builder.define(bell, all(is(start), not(bell)), is(bell));
    Stepper stepper = new Stepper(builder.build());
    stepper.set(start, true);
    assertThrows(UnsettledException.class, () -> Told.by(stepper));
    assertThrows(UnsettledException.class, () -> Told.by(stepper));

    stepper.set(start, false);
    List<String> told = Told.by(stepper);
    assertFalse(stepper.value(bell));
    assertFalse(stepper.value(rings));
    assertEquals("not rings", told.get(told.size() - 1));
    assertEquals(List.of(), Told.by(stepper));
  }

  @ParameterizedTest(name = "{0} latches in a row")
  @CsvSource({"1", "999", "1000"})
  void rowOfLatchesUpToTheMostTicksSettles(int length) {
    Row row = new Row(length);

    row.stepper.set(row.go, true);
    assertEquals(length + 1, Told.by(row.stepper).size());
    assertTrue(row.stepper.value(row.last));
  }

  /** The bound is meant for railways: no chain of reactions there comes near it. */
  @Test
  void rowOfLatchesLongerThanTheMostTicksIsTakenToSwing() {
    Row row = new Row(Stepper.TICKS_MAX + 1);

    row.stepper.set(row.go, true);
    assertThrows(UnsettledException.class, () -> Told.by(row.stepper));
  }

  @Test
  void onlyInputsOfTheNetworkAreSetAndOnlyItsPulsesPulsed() {
    Variable input = builder.input("input", words("input"));
    Variable pulse = builder.pulse("pulse", words("pulse"));
    Variable latch = latch("latch", false);
    builder.define(latch, never(), never());
    Variable equation = builder.equation("equation", words("equation"), never());
    Variable foreignInput = new NetworkBuilder().input("input", words("input"));
    Variable foreignPulse = new NetworkBuilder().pulse("pulse", words("pulse"));
    Stepper stepper = new Stepper(builder.build());

    for (Variable wrong : List.of(pulse, latch, equation, foreignInput)) {
      assertThrows(IllegalArgumentException.class, () -> stepper.set(wrong, true));
    }
    for (Variable wrong : List.of(input, latch, equation, foreignPulse)) {
      assertThrows(IllegalArgumentException.class, () -> stepper.pulse(wrong));
    }
    assertEquals(List.of(), Told.by(stepper));
  }

  private Variable latch(String name, boolean initially) {
    return initially
        ? builder.latchInitiallyTrue(name, words(name))
        : builder.latch(name, words(name));
  }

  private void copyWhen(Variable when, Variable copy, Variable original) {
    builder.define(copy, all(is(when), is(original)), all(is(when), not(original)));
  }

  /** Latches of which each follows the one before it, and the first an input. */
  private final class Row {

    private final Variable go = builder.input("go", words("go"));
    private final Variable last;
    private final Stepper stepper;

    Row(int length) {
      List<Variable> row = new ArrayList<>(List.of(go));
      for (int number = 1; number <= length; number++) {
        Variable next = latch("latch " + number, false);
        builder.define(next, is(row.get(number - 1)), never());
        row.add(next);
      }
      last = row.get(length);
      stepper = new Stepper(builder.build());
    }
  }
}
