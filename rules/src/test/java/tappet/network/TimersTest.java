package tappet.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;
import static tappet.network.Told.words;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;

/**
 * The times a network asks for, on a virtual clock in nanoseconds. The source is the package's own
 * description.
 */
class TimersTest {

  private static final Duration TIME = Duration.ofNanos(100);

  private final NetworkBuilder builder = new NetworkBuilder();
  private final Variable a = builder.input("a", words("a"));
  private final Variable b = builder.input("b", words("b"));
  private final Variable c = builder.input("c", words("c"));
  private final Variable untimed = builder.input("untimed", words("untimed"));
  private final Variable aHasRun = builder.timer("time a", words("a has run"), a, TIME);
  private final Variable bHasRun = builder.timer("time b", words("b has run"), b, TIME);
  private final Variable cHasRun =
      builder.timer("time c", words("c has run"), c, TIME.multipliedBy(2));

  @Test
  void nothingRunsAtFirst() {
    Timers timers = new Timers(builder.build());
    assertEquals(OptionalLong.empty(), timers.nextNs());
    assertEquals(Optional.empty(), timers.takeDue(Long.MAX_VALUE));
  }

  @Test
  void timeRunsOutWhenItsDurationIsOverAndNotBefore() {
    Timers timers = new Timers(builder.build());
    timers.follow(a, true, 1_000);

    assertEquals(OptionalLong.of(1_100), timers.nextNs());
    assertEquals(OptionalLong.of(1_100), timers.dueNs(a));
    assertEquals(List.of(), taken(timers, 1_099));
    assertEquals(List.of(aHasRun), taken(timers, 1_100));
  }

  @Test
  void timeThatHasRunOutRunsNoMore() {
    Timers timers = new Timers(builder.build());
    timers.follow(a, true, 0);
    taken(timers, 100);

    assertEquals(OptionalLong.empty(), timers.nextNs());
    assertEquals(OptionalLong.empty(), timers.dueNs(a));
    assertEquals(List.of(), taken(timers, Long.MAX_VALUE));
    timers.follow(a, false, 200);
    assertEquals(OptionalLong.empty(), timers.nextNs());
  }

  @Test
  void stoppedTimeNeverRunsOut() {
    Timers timers = new Timers(builder.build());
    timers.follow(a, true, 0);
    timers.follow(b, true, 10);
    timers.follow(a, false, 50);

    assertEquals(OptionalLong.empty(), timers.dueNs(a));
    assertEquals(List.of(bHasRun), taken(timers, 1_000));
  }

  @Test
  void timeStartedAgainRunsFromTheBeginning() {
    Timers timers = new Timers(builder.build());
    timers.follow(a, true, 0);
    timers.follow(a, false, 90);
    timers.follow(a, true, 90);

    assertEquals(OptionalLong.of(190), timers.nextNs());
    assertEquals(List.of(), taken(timers, 189));
    assertEquals(List.of(aHasRun), taken(timers, 190));
  }

  /** A clock that counts from when it was switched on has little left above the longest time. */
  @Test
  void timeThatIsLongerThanTheClockCountsNeverRunsOut() {
    NetworkBuilder endless = new NetworkBuilder();
    Variable asked = endless.input("asked", words("asked"));
    endless.timer("for ever", words("over"), asked, Duration.ofNanos(Long.MAX_VALUE));
    Timers timers = new Timers(endless.build());
    timers.follow(asked, true, 1_000);

    assertEquals(OptionalLong.of(Long.MAX_VALUE), timers.dueNs(asked));
    assertEquals(List.of(), taken(timers, 2_000));
  }

  @Test
  void timeAskedForWhileItRunsRunsFromTheBeginningAndOnce() {
    Timers timers = new Timers(builder.build());
    timers.follow(a, true, 0);
    timers.follow(a, true, 60);

    assertEquals(OptionalLong.of(160), timers.nextNs());
    assertEquals(List.of(aHasRun), taken(timers, 1_000));
  }

  @Test
  void earlierDeadlineComesFirstWhateverStartedFirst() {
    Timers timers = new Timers(builder.build());
    timers.follow(c, true, 0);
    timers.follow(a, true, 50);

    assertEquals(OptionalLong.of(150), timers.nextNs());
    assertEquals(List.of(aHasRun, cHasRun), taken(timers, 1_000));
  }

  @Test
  void equalDeadlinesRunOutInTheOrderOfTheirStart() {
    Timers timers = new Timers(builder.build());
    timers.follow(c, true, 0);
    timers.follow(b, true, 100);
    timers.follow(a, true, 100);
    assertEquals(List.of(cHasRun, bHasRun, aHasRun), taken(timers, 200));
  }

  @Test
  void timeStartedAgainQueuesBehindThoseOfTheSameDeadline() {
    Timers timers = new Timers(builder.build());
    timers.follow(a, true, 0);
    timers.follow(b, true, 0);
    timers.follow(a, false, 0);
    timers.follow(a, true, 0);
    assertEquals(List.of(bHasRun, aHasRun), taken(timers, 100));
  }

  @Test
  void variableThatAsksForNoTimeStartsNone() {
    Timers timers = new Timers(builder.build());
    timers.follow(untimed, true, 0);
    timers.follow(aHasRun, true, 0);
    timers.follow(untimed, false, 0);

    assertEquals(OptionalLong.empty(), timers.nextNs());
    assertEquals(OptionalLong.empty(), timers.dueNs(untimed));
  }

  @Test
  void hasRunStaysTrueUntilTheNetworkNoLongerAsks() {
    Desk desk = new Desk(builder.build());
    desk.set(a, true, 0);
    desk.runTo(99);
    assertFalse(desk.stepper.value(aHasRun));
    desk.runTo(100);
    assertTrue(desk.stepper.value(aHasRun));
    desk.runTo(10_000);
    assertTrue(desk.stepper.value(aHasRun));
    desk.set(a, false, 10_000);
    assertFalse(desk.stepper.value(aHasRun));
  }

  @Test
  void timeInterruptedAndAskedForAgainIsOwedInFull() {
    Desk desk = new Desk(builder.build());
    desk.set(a, true, 0);
    desk.set(a, false, 99);
    desk.set(a, true, 99);
    desk.runTo(198);
    assertFalse(desk.stepper.value(aHasRun));
    desk.runTo(199);
    assertTrue(desk.stepper.value(aHasRun));
  }

  @Test
  void fallAndRiseWithinOneStepStartsTheTimeAgain() {
    Variable shock = builder.pulse("shock", words("shock"));
    Variable calm = builder.equation("calm", words("calm"), not(shock));
    Variable calmHasRun = builder.timer("time calm", words("calm has run"), calm, TIME);
    Desk desk = new Desk(builder.build());
    desk.step(0);

    desk.runTo(60);
    desk.pulse(shock, 60);
    assertEquals(OptionalLong.of(160), desk.timers.dueNs(calm));
    desk.runTo(159);
    assertFalse(desk.stepper.value(calmHasRun));
    desk.runTo(160);
    assertTrue(desk.stepper.value(calmHasRun));

    desk.pulse(shock, 200);
    assertFalse(desk.stepper.value(calmHasRun));
    assertEquals(OptionalLong.of(300), desk.timers.dueNs(calm));
  }

  @Test
  void timeAskedForFromTheBeginningStartsWithTheFirstStep() {
    Variable always = builder.equation("always", words("always"), Expression.always());
    builder.timer("time always", words("always has run"), always, TIME);
    Desk desk = new Desk(builder.build());

    desk.step(5);
    assertEquals(OptionalLong.of(105), desk.timers.dueNs(always));
  }

  @Test
  void oneTimeMayStartAnother() {
    Variable second = builder.equation("second", words("second"), is(aHasRun));
    Variable secondHasRun = builder.timer("time second", words("second has run"), second, TIME);
    Desk desk = new Desk(builder.build());
    desk.set(a, true, 0);

    desk.runTo(199);
    assertFalse(desk.stepper.value(secondHasRun));
    desk.runTo(200);
    assertTrue(desk.stepper.value(secondHasRun));
  }

  /** The latches of the times that have run out by {@code nowNs}, in order. */
  private static List<Variable> taken(Timers timers, long nowNs) {
    List<Variable> taken = new ArrayList<>();
    for (Optional<Timer> due = timers.takeDue(nowNs);
        due.isPresent();
        due = timers.takeDue(nowNs)) {
      taken.add(due.get().hasRun());
    }
    return taken;
  }

  /** Network and times joined as whoever steps a network must join them. */
  private static final class Desk {

    private final Stepper stepper;
    private final Timers timers;

    Desk(Network network) {
      stepper = new Stepper(network);
      timers = new Timers(network);
    }

    void set(Variable input, boolean value, long nowNs) {
      stepper.set(input, value);
      step(nowNs);
    }

    void pulse(Variable pulse, long nowNs) {
      stepper.pulse(pulse);
      step(nowNs);
    }

    void runTo(long nowNs) {
      while (timers.nextNs().orElse(Long.MAX_VALUE) <= nowNs) {
        long dueNs = timers.nextNs().getAsLong();
        pulse(timers.takeDue(dueNs).orElseThrow().runsOut(), dueNs);
      }
    }

    void step(long nowNs) {
      stepper.step((variable, value) -> timers.follow(variable, value, nowNs));
    }
  }
}
