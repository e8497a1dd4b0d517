package tappet.bridge.session;

import java.time.Duration;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What a train has to do in a run, and from each stand the moves that bring it nearer to the end of
 * all that. No such move leads farther away, so that a train which goes on always gets there.
 */
final class Itinerary {

  /** How much longer a way round may be than the best one, so that trains can meet. */
  private static final int SLACK = 2;

  static final int NO_WAY = Integer.MAX_VALUE / 2;

  /**
   * A place to come to.
   *
   * @param needs the sections that no other train may be on for the work to be done
   */
  record Goal(
      String section, Duration work, List<String> permit, Optional<String> release, BitSet needs) {

    boolean isMetBy(Stand stand) {
      return stand.section().equals(section);
    }
  }

  /** Where a train is in its run. */
  private record Progress(Stand stand, int goal) {}

  private final List<Goal> goals;
  private final Stand beginning;
  private final List<Map<Stand, Integer>> costs;
  private final Map<Progress, List<Move>> onwards = new HashMap<>();

  /**
   * @param costs for each goal: what it costs from a stand to come there and to all that follows;
   *     nothing for a stand from which there is no way
   */
  Itinerary(List<Goal> goals, Stand beginning, List<Map<Stand, Integer>> costs) {
    this.goals = goals;
    this.beginning = beginning;
    this.costs = costs;
  }

  List<Goal> goals() {
    return goals;
  }

  /** Where the train is put on the track. */
  Stand beginning() {
    return beginning;
  }

  /** Whether a train that stands there is through with this goal once its work is done. */
  boolean isMet(Stand stand, int goal) {
    return goals.get(goal).isMetBy(stand) && costs.get(goal).containsKey(stand);
  }

  /** How far it is from there to the end of the run; only to be compared. */
  int cost(Stand stand, int goal) {
    return goal == goals.size() ? 0 : costs.get(goal).getOrDefault(stand, NO_WAY);
  }

  /** The moves that bring a train nearer to its goal, and to all that follows, the best first. */
  List<Move> onwards(Stand stand, int goal) {
    return onwards.computeIfAbsent(new Progress(stand, goal), this::onwards);
  }

  private List<Move> onwards(Progress from) {
    int best = cost(from.stand(), from.goal());
    return from.stand().moves().stream()
        .filter(move -> cost(move.to(), from.goal()) < best)
        .filter(move -> costBy(move, from.goal()) <= best + SLACK)
        .sorted(Comparator.comparingInt(move -> costBy(move, from.goal())))
        .toList();
  }

  private int costBy(Move move, int goal) {
    return move.cost() + cost(move.to(), goal);
  }
}
