package tappet.bridge.session;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.FastClock;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;
import tappet.rules.ControlTable;
import tappet.simulator.session.ListedTrain;
import tappet.simulator.session.TrainList;
import tappet.source.Problems;

/** A train list for which every train's way has been found. */
public final class SessionPlan {

  private final TrainList list;
  private final Layout layout;
  private final ControlTable table;
  private final List<Itinerary> itineraries;

  private SessionPlan(
      TrainList list, Layout layout, ControlTable table, List<Itinerary> itineraries) {
    this.list = list;
    this.layout = layout;
    this.table = table;
    this.itineraries = itineraries;
  }

  /**
   * Finds the way of every train.
   *
   * @param list read without a mistake
   * @param problems where it is noted that a train cannot come to a place of its list
   * @return empty if there is such a place
   */
  public static Optional<SessionPlan> of(
      TrainList list, Layout layout, ControlTable table, Problems problems) {
    List<Itinerary> itineraries = new ArrayList<>();
    for (ListedTrain train : list.trains()) {
      itinerary(train, layout, table, problems).ifPresent(itineraries::add);
    }
    return itineraries.size() == list.trains().size()
        ? Optional.of(new SessionPlan(list, layout, table, itineraries))
        : Optional.empty();
  }

  private static Optional<Itinerary> itinerary(
      ListedTrain train, Layout layout, ControlTable table, Problems problems) {
    RouteBook.Numbering numbering = RouteBook.Numbering.of(layout);
    RouteBook book = new RouteBook(new TrackPlan(layout), table, numbering, train.lengthMetres());
    Map<String, String> sectionOfSwitch = new HashMap<>();
    layout.switches().values().forEach(toe -> sectionOfSwitch.put(toe.id(), toe.section()));
    ItineraryPlanner planner = new ItineraryPlanner(train, book, numbering, sectionOfSwitch);
    Optional<Itinerary> itinerary = planner.itinerary();
    if (itinerary.isEmpty()) {
      ListedTrain.Named place = planner.outOfReach();
      problems.add(
          place.place(),
          "no way leads '%s' to section '%s' from what comes before it"
              .formatted(train.name(), place.name()),
          "a train stands before a signal, at an end of track, or in a spur; it changes ends only"
              + " before a signal the other way");
    }
    return itinerary;
  }

  /** The fast clock by which the session runs. */
  public ClockPlan clock() {
    return new ClockPlan.Run(FastClock.FAST, list.clock().rate(), list.clock().start());
  }

  TrainList list() {
    return list;
  }

  Layout layout() {
    return layout;
  }

  /** The rules by which it is held. */
  public ControlTable table() {
    return table;
  }

  /** The ways, in the order of the list. */
  List<Itinerary> itineraries() {
    return itineraries;
  }
}
