package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Invented railroads whose rules are drafted from their track plans, without a line by hand: a ring
 * of single track with staging, a branch terminal with a run-round loop, a junction of double
 * track. The lists are in src/test/resources/session.
 */
class DraftedRailroadsTest {

  private static final long SEED = 7;

  @ParameterizedTest
  @ValueSource(strings = {"loop", "branch", "junction"})
  void everyTrainArrives(String railroad) {
    SessionPlan plan = Lists.drafted(railroad);
    Session session = Lists.session(plan, SEED, new Banker()).run(Duration.ofMinutes(90));
    String report = session.report();
    assertTrue(session.wentWell(), report);
    assertTrue(session.isAtRest(), report);
    session.runs().forEach(run -> assertTrue(run.endedMinute().isPresent(), report));
    long trains = session.runs().stream().map(Run::train).distinct().count();
    assertEquals(plan.list().trains().size(), trains, report);
  }

  /**
   * The same list without foresight ends where nobody can get on, so that the test above could
   * fail. The interlocking keeps everybody safe even then.
   */
  @ParameterizedTest
  @ValueSource(strings = {"loop", "branch", "junction"})
  void withoutForesightTheyLockEachOtherIn(String railroad) {
    SessionPlan plan = Lists.drafted(railroad);
    Session session = Lists.session(plan, SEED, Foresight.NONE).run(Duration.ofHours(6));
    String report = session.report();
    assertTrue(session.failure().orElse("").startsWith("no train gets on any more"), report);
    assertTrue(report.contains("\n0 mishaps\n"), report);
  }
}
