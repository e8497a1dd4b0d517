package tappet.bridge.session;

import java.time.Duration;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.simulator.session.ListedTrain;
import tappet.simulator.session.ListedTrain.Named;

/**
 * What a train has to do in a run, and from each stand the moves that bring it nearer to the end of
 * all that. No such move leads farther away, so that a train which goes on always gets there.
 */
final class Itinerary {

  /** How much longer a way round may be than the best one, so that trains can meet. */
  private static final int SLACK = 2;

  private static final int NO_WAY = Integer.MAX_VALUE / 2;

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

  private Itinerary(List<Goal> goals, Stand beginning, List<Map<Stand, Integer>> costs) {
    this.goals = goals;
    this.beginning = beginning;
    this.costs = costs;
  }

  /** A train's way, or the place to which none leads. */
  static final class Planner {

    private final ListedTrain train;
    private final RouteBook book;
    private final RouteBook.Numbering numbering;
    private final Map<String, String> sectionOfSwitch;

    /**
     * @param sectionOfSwitch by switch, the section it lies in
     */
    Planner(
        ListedTrain train,
        RouteBook book,
        RouteBook.Numbering numbering,
        Map<String, String> sectionOfSwitch) {
      this.train = train;
      this.book = book;
      this.numbering = numbering;
      this.sectionOfSwitch = sectionOfSwitch;
    }

    /** Empty where some place cannot be come to; see {@link #outOfReach}. */
    Optional<Itinerary> itinerary() {
      List<Stand> beginnings = book.beginnings(train.from().name());
      List<Goal> goals = goals();
      List<Map<Stand, Integer>> costs = costs(goals, new HashSet<>(book.stands()));
      if (train.again().isPresent()) {
        Set<Stand> beginsAgain = costs.get(0).keySet();
        costs = costs(goals, train.then().isLifted() ? new HashSet<>(book.stands()) : beginsAgain);
      }
      Map<Stand, Integer> first = costs.get(0);
      Optional<Stand> beginning =
          beginnings.stream().filter(first::containsKey).min(Comparator.comparingInt(first::get));
      List<Map<Stand, Integer>> known = costs;
      return beginning.map(stand -> new Itinerary(goals, stand, known));
    }

    /** The first place to which no way leads from what comes before it. */
    Named outOfReach() {
      List<Named> places = places();
      Set<Stand> from = new HashSet<>(book.beginnings(train.from().name()));
      for (Named place : places) {
        from = reached(from);
        from.removeIf(stand -> !stand.section().equals(place.name()));
        if (from.isEmpty()) {
          return place;
        }
      }
      return train.from();
    }

    private static Set<Stand> reached(Set<Stand> from) {
      Set<Stand> reached = new HashSet<>(from);
      List<Stand> open = new ArrayList<>(from);
      while (!open.isEmpty()) {
        for (Move move : open.remove(open.size() - 1).moves()) {
          if (reached.add(move.to())) {
            open.add(move.to());
          }
        }
      }
      return reached;
    }

    private List<Named> places() {
      List<Named> places = new ArrayList<>();
      train.calls().forEach(call -> places.add(call.at()));
      places.add(train.to());
      if (train.then().returns()) {
        places.add(train.from());
      }
      return places;
    }

    private List<Goal> goals() {
      List<Goal> goals = new ArrayList<>();
      for (ListedTrain.Call call : train.calls()) {
        List<String> permit = call.permit().stream().map(Named::name).toList();
        Optional<String> release = call.release().map(Named::name);
        List<String> needs = new ArrayList<>(permit);
        release.map(sectionOfSwitch::get).ifPresent(needs::add);
        goals.add(new Goal(call.at().name(), call.work(), permit, release, numbering.set(needs)));
      }
      goals.add(plain(train.to().name()));
      if (train.then().returns()) {
        goals.add(plain(train.from().name()));
      }
      return goals;
    }

    private static Goal plain(String section) {
      return new Goal(section, Duration.ZERO, List.of(), Optional.empty(), new BitSet());
    }

    /**
     * For each goal: what it costs from a stand to come there and to all that follows.
     *
     * @param lastStands where the run may end
     */
    private List<Map<Stand, Integer>> costs(List<Goal> goals, Set<Stand> lastStands) {
      List<Map<Stand, Integer>> costs = new ArrayList<>();
      Map<Stand, Integer> after = new HashMap<>();
      lastStands.forEach(stand -> after.put(stand, 0));
      Map<Stand, Integer> next = after;
      for (int goal = goals.size() - 1; goal >= 0; goal--) {
        next = costs(goals.get(goal), next);
        costs.add(0, next);
      }
      return costs;
    }

    private Map<Stand, Integer> costs(Goal goal, Map<Stand, Integer> after) {
      Map<Stand, Integer> costs = new HashMap<>();
      for (Stand stand : book.stands()) {
        if (goal.isMetBy(stand) && after.containsKey(stand)) {
          costs.put(stand, after.get(stand));
        }
      }
      boolean changed = true;
      while (changed) {
        changed = false;
        for (Stand stand : book.stands()) {
          int best = best(stand, costs);
          if (best < costs.getOrDefault(stand, NO_WAY)) {
            costs.put(stand, best);
            changed = true;
          }
        }
      }
      return costs;
    }

    private static int best(Stand stand, Map<Stand, Integer> costs) {
      return stand.moves().stream()
          .mapToInt(move -> move.cost() + costs.getOrDefault(move.to(), NO_WAY))
          .min()
          .orElse(NO_WAY);
    }
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
