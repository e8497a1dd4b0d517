package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.sentence.Happening;
import tappet.source.Place;

/** Faults in a session: boards fall silent while trains run, and everybody gets there later. */
class SilentBoardTest {

  private static final Place HERE = Place.inText("test", 1);
  private static final int SILENCES = 20;

  @ParameterizedTest
  @ValueSource(longs = {1, 2})
  void sessionGoesOnAfterABoardWasSilentForAMinute(long seed) {
    SplittableRandom dice = new SplittableRandom(seed);
    SessionPlan plan = Lists.demo();
    VirtualSession held = Lists.session(plan, seed, new Banker());
    List<String> boards = List.copyOf(plan.layout().boards().keySet());
    held.begin();
    for (int count = 0; count < SILENCES; count++) {
      held.pass(Duration.ofSeconds(dice.nextInt(30, 240)));
      String board = boards.get(dice.nextInt(boards.size()));
      held.railroad().happen(new Happening.BoardFallsSilent(board, HERE));
      held.pass(Duration.ofMinutes(1));
      held.railroad().happen(new Happening.BoardSpeaksAgain(board, HERE));
    }
    held.end();
    Session session = held.session();
    String report = "seed " + seed + "\n" + session.report();
    assertTrue(session.wentWell(), report);
    assertTrue(session.isAtRest(), report);
    assertEquals(List.of(), held.railroad().railway().mishaps(), report);
    assertTrue(session.runs().size() > 5, report);
  }
}
