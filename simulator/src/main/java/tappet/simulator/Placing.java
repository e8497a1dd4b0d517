package tappet.simulator;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Finds room on the track for a train. */
final class Placing {

  private final Rails rails;
  private final Trackside trackside;

  Placing(Rails rails, Trackside trackside) {
    this.rails = rails;
    this.trackside = trackside;
  }

  /**
   * Room for the train in its section: in the middle where it fits, else with its rear hanging out
   * behind. Empty if no track through the section heads that way as the switches lie, or the track
   * behind is too short.
   */
  Optional<Consist> room(TrainSpec spec) {
    return way(spec)
        .map(way -> inTheMiddle(way, spec.lengthMetres()))
        .flatMap(this::withRoomBehind)
        .filter(this::switchesLieForIt);
  }

  /** The runs through the section, from one edge to the other. */
  private Optional<List<Run>> way(TrainSpec spec) {
    return rails.through(spec.section(), spec.heading()).stream()
        .filter(run -> isEntry(run) && lies(run))
        .findFirst()
        .map(this::onwards);
  }

  private static boolean isEntry(Run run) {
    return run.opposite().exits().stream()
        .noneMatch(exit -> exit.run().section().equals(run.section()));
  }

  private boolean lies(Run run) {
    return run.track().leg().stream().allMatch(trackside::liesFor);
  }

  private List<Run> onwards(Run entry) {
    var way = new ArrayList<Run>();
    Optional<Run> next = Optional.of(entry);
    while (next.isPresent() && !way.contains(next.get())) {
      way.add(next.get());
      next = next(next.get()).filter(run -> run.section().equals(entry.section()));
    }
    return way;
  }

  private static Consist inTheMiddle(List<Run> way, double lengthMetres) {
    double wayMetres = way.stream().mapToDouble(Run::lengthMetres).sum();
    double headMetres =
        Math.min(wayMetres - Engineer.STOP_SHORT_METRES, (wayMetres + lengthMetres) / 2);
    int head = 0;
    while (headMetres > way.get(head).lengthMetres()) {
      headMetres -= way.get(head).lengthMetres();
      head++;
    }
    return new Consist(lengthMetres, way.subList(0, head + 1), headMetres);
  }

  private Optional<Consist> withRoomBehind(Consist consist) {
    while (consist.hangsOver()) {
      Optional<Run> behind = next(consist.rear().opposite());
      if (behind.isEmpty()) {
        return Optional.empty();
      }
      consist.reachBackTo(behind.get().opposite());
    }
    consist.leaveBehind();
    return Optional.of(consist);
  }

  private boolean switchesLieForIt(Consist consist) {
    return consist.stretches().stream()
        .flatMap(stretch -> stretch.fouled().stream())
        .allMatch(trackside::liesFor);
  }

  private Optional<Run> next(Run run) {
    return trackside.beyond(run).map(Run.Exit::run);
  }
}
