package tappet.interlocking;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * 49 CFR 236.309, F.1 S14: a section that shows clear for a moment with a train in it releases and
 * moves nothing. The limit is the 2 s of the rule file.
 */
class LossOfShuntTest {

  private static final double LIMIT_SECONDS = 2.0;

  /** Pulses of every length around the limit: each tenth of a second, and just beside it. */
  static DoubleStream pulses() {
    return DoubleStream.concat(
        IntStream.rangeClosed(1, 30).mapToDouble(tenths -> tenths / 10.0),
        DoubleStream.of(1.999_999_999, 2.000_000_001));
  }

  @ParameterizedTest
  @MethodSource("pulses")
  void pulseWithinTheLimitReleasesNoRouteLocking(double seconds) {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    desk.occupy("middle");
    pulse(desk, "first", seconds);
    assertEquals(seconds < LIMIT_SECONDS, desk.why("first").contains("is held by"));
    assertEquals(true, desk.holds("s2"));
  }

  @ParameterizedTest
  @MethodSource("pulses")
  void pulseWithinTheLimitFreesNoSwitch(double seconds) {
    var desk = Throat.desk();
    desk.occupy("first");
    desk.pass(1.0);
    desk.clear("first");
    desk.pass(seconds);
    desk.movements();
    boolean moved = desk.tell("throw s1 reverse").granted();
    assertEquals(seconds >= LIMIT_SECONDS, moved);
    assertEquals(moved ? List.of("s1 reverse") : List.of(), desk.movements());
  }

  @ParameterizedTest
  @MethodSource("pulses")
  void pulseWithinTheLimitGrantsNoRoute(double seconds) {
    var desk = Throat.desk();
    desk.occupy("middle");
    desk.pass(1.0);
    desk.clear("middle");
    desk.pass(seconds);
    assertEquals(seconds >= LIMIT_SECONDS, desk.tell("line a2e to z").granted());
  }

  @ParameterizedTest
  @MethodSource("pulses")
  void pulseOfAnyLengthClearsNoSignalBehindTheTrain(double seconds) {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("first");
    pulse(desk, "first", seconds);
    assertEquals("stop", desk.shows("a2e"));
    desk.pass(10.0);
    assertEquals("stop", desk.shows("a2e"));
  }

  // H.11: an approach section that flickers with a train in it.
  @ParameterizedTest
  @MethodSource("pulses")
  void pulseWithinTheLimitInTheApproachReleasesNoCancelledRoute(double seconds) {
    var desk = Throat.desk();
    desk.order("line a2e to z");
    desk.occupy("near");
    desk.pass(1.0);
    desk.order("cancel a2e");
    pulse(desk, "near", seconds);
    assertEquals(seconds < LIMIT_SECONDS, desk.locked("through"));
  }

  private static void pulse(Desk desk, String section, double seconds) {
    desk.pass(1.0);
    desk.clear(section);
    desk.pass(seconds);
    desk.occupy(section);
  }
}
