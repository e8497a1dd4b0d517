package tappet.rules.draft;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import tappet.layout.Signal;
import tappet.source.Problem;

/** Tells what the layout lacks for a better draft. */
final class Lacks {

  private final Ladders ladders;

  Lacks(Ladders ladders) {
    this.ladders = ladders;
  }

  List<Problem> of(Map<Signal, List<DraftedRoute>> routes) {
    List<Problem> lacks = new ArrayList<>();
    routes.forEach(
        (signal, starting) -> {
          if (starting.isEmpty()) {
            lacks.add(noWay(signal));
          }
          ladders.lackingOf(signal.id()).stream()
              .filter(aspect -> ladders.insteadOf(aspect, signal.id()).isPresent())
              .forEach(aspect -> lacks.add(weaker(signal, aspect)));
          starting.stream()
              .filter(route -> ladders.speedOf(route).isEmpty())
              .forEach(route -> lacks.add(unsignalled(signal, route)));
        });
    return lacks;
  }

  private static Problem noWay(Signal signal) {
    return new Problem(
        signal.place(),
        "from signal '%s' no way leads to a signal or to an end of track".formatted(signal.id()),
        "the track beyond comes back to itself; place a signal on it");
  }

  private Problem weaker(Signal signal, String aspect) {
    return new Problem(
        signal.place(),
        "signal '%s' could come to show %s and has no event for it".formatted(signal.id(), aspect),
        "add '%s: <event id>' under its shows; as drafted it shows %s instead"
            .formatted(aspect, ladders.insteadOf(aspect, signal.id()).orElseThrow()));
  }

  private Problem unsignalled(Signal signal, DraftedRoute route) {
    return new Problem(
        signal.place(),
        "signal '%s' has no event for %s, so that its route to %s is left out"
            .formatted(signal.id(), ladders.lowest(route), route.path().to()),
        "add '%s: <event id>' under its shows".formatted(ladders.lowest(route)));
  }
}
