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
  private static final int SILENCES = 60;

  /**
   * Seed 5 loses the order to release the quarry's lock, 6 lets a train come to staging unheard, 9
   * silences Tilling while its signal shows what was meant for the train before.
   */
  @ParameterizedTest
  @ValueSource(longs = {5, 6, 9})
  void sessionGoesOnAfterABoardWasSilentForAMinute(long seed) {
    SplittableRandom dice = new SplittableRandom(seed);
    SessionPlan plan = Lists.demo();
    VirtualSession held = Lists.session(plan, 1, new Banker());
    List<String> boards = List.copyOf(plan.layout().boards().keySet());
    held.begin();
    for (int count = 0; count < SILENCES; count++) {
      held.pass(Duration.ofSeconds(dice.nextInt(60, 240)));
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
    assertTrue(session.runs().size() > 20, report);
  }
}
