package tappet.interlocking;

import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.network.Stepper;

/**
 * The routes that are fleeted or stacked, in the order in which people asked. Each is laid on as a
 * request of its own as soon as the network says that it can be granted, so that two are never
 * granted at once (interlocking sheet, H.6).
 */
final class StandingRequests {

  /** More than a dispatcher keeps in mind. */
  static final int MOST = 24;

  private final Set<RouteCircuit> waiting = new LinkedHashSet<>();

  /** Keeps the order in which routes begin to wait. */
  void follow(RouteCircuit route, boolean waits) {
    if (waits) {
      waiting.add(route);
    } else {
      waiting.remove(route);
    }
  }

  /** The routes that wait in another network wait here, in the same order. */
  void goOn(StandingRequests before, Map<String, RouteCircuit> routes) {
    waiting.clear();
    for (RouteCircuit route : before.waiting) {
      Optional.ofNullable(routes.get(route.row.id())).ifPresent(waiting::add);
    }
  }

  /** How many there are. */
  int size() {
    return waiting.size();
  }

  /** The first that can be granted now. */
  Optional<RouteCircuit> ready(Stepper stepper) {
    for (RouteCircuit route : waiting) {
      if (stepper.value(route.available)) {
        return Optional.of(route);
      }
    }
    return Optional.empty();
  }
}
