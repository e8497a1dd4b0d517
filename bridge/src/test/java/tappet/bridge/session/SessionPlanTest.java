package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The ways of trains, found from the control table and the track plan. */
class SessionPlanTest {

  @ParameterizedTest
  @CsvSource({
    // No signal stands where a train could wait at Mill Road.
    "1 m, fallow-1, mill-road, 74",
    // The quarry's spur has 1.4 m.
    "1.5 m, corvane-main, quarry-spur, 80",
    // No row leads into the yard.
    "1 m, fallow-1, yard-throat, 74"
  })
  void placeThatNobodyCanComeToIsTold(String length, String from, String to, int column) {
    String train = "{train: Local, length: %s, from: %s, to: %s, at: 06:00}";
    List<String> told = Lists.problemsOnDemo(list(train.formatted(length, from, to)));
    assertEquals(1, told.size(), told.toString());
    assertTrue(
        told.get(0).contains("no way leads 'Local' to section '%s'".formatted(to)), told.get(0));
    assertTrue(told.get(0).startsWith("session.yaml:4:"), told.get(0));
  }

  /** Mill Branch and Creamery are two ends: the train changes ends at Tilling to get across. */
  @Test
  void trainChangesEndsWhereItMust() {
    List<Move> way = way("{train: X, length: 1 m, from: mill-branch, to: creamery, at: 06:00}");
    assertEquals(1, way.stream().filter(Move.Turn.class::isInstance).count(), way.toString());
  }

  @Test
  void trainThatNeedNotChangeEndsDoesNot() {
    List<Move> way = way("{train: X, length: 1 m, from: fallow-1, to: corvane-main, at: 06:00}");
    assertTrue(way.stream().allMatch(Move.Over.class::isInstance), way.toString());
    assertEquals("corvane-main", last(way).section());
  }

  /** Automatic signals follow each other without a dispatcher: the whole line is one move. */
  @Test
  void lineWithAutomaticSignalsIsOneMove() {
    List<Move> way = way("{train: X, length: 1 m, from: fallow-1, to: corvane-main, at: 06:00}");
    assertTrue(
        way.stream()
            .map(move -> (Move.Over) move)
            .anyMatch(
                move ->
                    move.path()
                            .equals(
                                List.of(
                                    "tilling-e", "mid-west", "mill-road", "mid-near", "mid-east"))
                        && move.rows().size() == 2),
        way.toString());
  }

  @Test
  void longTrainCoversTheSectionsBehindIt() {
    List<Move> way = way("{train: X, length: 2.9 m, from: fallow-1, to: corvane-main, at: 06:00}");
    Stand atTilling =
        way.stream()
            .map(Move::to)
            .filter(stand -> stand.section().equals("tilling-main"))
            .findFirst()
            .orElseThrow();
    assertEquals(List.of("tilling-main", "tilling-w"), atTilling.sections());
  }

  /** The lock is released only where no automatic signal over the switch is called. */
  @Test
  void spurIsComeToAgainstTheTraffic() {
    List<Move> way =
        way(
            "{train: X, length: 1 m, from: fallow-1, calls: [{at: quarry-spur}], to: fallow-2,"
                + " at: 06:00}");
    int into = way.indexOf(way.stream().filter(Move.ByHand.class::isInstance).findFirst().get());
    assertTrue(way.get(into - 1) instanceof Move.Turn, way.toString());
    assertEquals("quarry-spur", way.get(into).to().section());
    Move.ByHand out = (Move.ByHand) way.get(into + 1);
    assertTrue(out.out());
    assertEquals("mid-west", out.to().section());
    assertFalse(out.to().covers().intersects(way.get(into).to().covers()));
  }

  /** Every move costs something, and what is left to do gets less with each. */
  @Test
  void everyMoveBringsATrainNearerToItsEnd() {
    for (Itinerary itinerary : Lists.demo().itineraries()) {
      Stand stand = itinerary.beginning();
      for (int goal = 0; goal < itinerary.goals().size(); goal++) {
        int left = itinerary.cost(stand, goal);
        for (Move move : itinerary.onwards(stand, goal)) {
          assertTrue(itinerary.cost(move.to(), goal) < left);
        }
      }
    }
  }

  private static List<Move> way(String train) {
    Itinerary itinerary = Lists.demo(list(train)).itineraries().get(0);
    List<Move> way = new ArrayList<>();
    Stand stand = itinerary.beginning();
    for (int goal = 0; goal < itinerary.goals().size(); goal++) {
      while (!itinerary.isMet(stand, goal)) {
        Optional<Move> best = itinerary.onwards(stand, goal).stream().findFirst();
        way.add(best.orElseThrow());
        stand = best.get().to();
      }
    }
    return way;
  }

  private static Stand last(List<Move> way) {
    return way.get(way.size() - 1).to();
  }

  private static String list(String train) {
    return "session: Test\nclock: {rate: 4, time: 06:00}\ntrains:\n  - " + train + "\n";
  }
}
