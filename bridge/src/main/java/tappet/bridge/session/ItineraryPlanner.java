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

/** Finds the way of a train, or the place to which none leads. */
final class ItineraryPlanner {

  private final ListedTrain train;
  private final RouteBook book;
  private final RouteBook.Numbering numbering;
  private final Map<String, String> sectionOfSwitch;

  /**
   * @param sectionOfSwitch by switch, the section it lies in
   */
  ItineraryPlanner(
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
    List<Itinerary.Goal> goals = goals();
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

  private List<Itinerary.Goal> goals() {
    List<Itinerary.Goal> goals = new ArrayList<>();
    for (ListedTrain.Call call : train.calls()) {
      List<String> permit = call.permit().stream().map(Named::name).toList();
      Optional<String> release = call.release().map(Named::name);
      List<String> needs = new ArrayList<>(permit);
      release.map(sectionOfSwitch::get).ifPresent(needs::add);
      goals.add(
          new Itinerary.Goal(call.at().name(), call.work(), permit, release, numbering.set(needs)));
    }
    goals.add(plain(train.to().name()));
    if (train.then().returns()) {
      goals.add(plain(train.from().name()));
    }
    return goals;
  }

  private static Itinerary.Goal plain(String section) {
    return new Itinerary.Goal(section, Duration.ZERO, List.of(), Optional.empty(), new BitSet());
  }

  /**
   * For each goal: what it costs from a stand to come there and to all that follows.
   *
   * @param lastStands where the run may end
   */
  private List<Map<Stand, Integer>> costs(List<Itinerary.Goal> goals, Set<Stand> lastStands) {
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

  private Map<Stand, Integer> costs(Itinerary.Goal goal, Map<Stand, Integer> after) {
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
        if (best < costs.getOrDefault(stand, Itinerary.NO_WAY)) {
          costs.put(stand, best);
          changed = true;
        }
      }
    }
    return costs;
  }

  private static int best(Stand stand, Map<Stand, Integer> costs) {
    return stand.moves().stream()
        .mapToInt(move -> move.cost() + costs.getOrDefault(move.to(), Itinerary.NO_WAY))
        .min()
        .orElse(Itinerary.NO_WAY);
  }
}
