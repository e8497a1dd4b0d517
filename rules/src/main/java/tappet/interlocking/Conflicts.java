package tappet.interlocking;

import static tappet.network.Expression.not;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.network.Expression;
import tappet.rules.RouteRow;

/**
 * What may not be used together with what, besides that which shares sections: because a row says
 * so, or because a train on the one would come into a fouling section or an overlap of the other
 * (49 CFR 236.773). Whichever of two rows gives the reason, each keeps off the other.
 */
final class Conflicts {

  private final Map<String, Set<RouteCircuit>> routes = new LinkedHashMap<>();
  private final Map<String, Set<AutomaticCircuit>> automatics = new LinkedHashMap<>();

  /** Notes what a route is not set with, and who would run into what it keeps clear. */
  void note(RouteCircuit route, Circuits circuits) {
    route.row.conflicts().forEach(other -> note(route, circuits.route(other)));
    Set<String> beyond = circuits.table.signalsBeyond(route.row);
    for (String section : route.row.alsoClear()) {
      circuits.routesOver(section).stream()
          .filter(other -> !beyond.contains(other.row.from()))
          .forEach(other -> note(route, other));
      circuits.automaticsOver(section).stream()
          .filter(other -> !beyond.contains(other.row.from()))
          .forEach(other -> note(route, other));
    }
  }

  private void note(RouteCircuit one, RouteCircuit other) {
    routes.computeIfAbsent(one.row.id(), id -> new LinkedHashSet<>()).add(other);
    routes.computeIfAbsent(other.row.id(), id -> new LinkedHashSet<>()).add(one);
  }

  private void note(RouteCircuit route, AutomaticCircuit automatic) {
    automatics.computeIfAbsent(route.row.id(), id -> new LinkedHashSet<>()).add(automatic);
    routes.computeIfAbsent(automatic.row.id(), id -> new LinkedHashSet<>()).add(route);
  }

  /** That no route is locked that may not be used together with a row. */
  List<Expression> noneIsLockedAgainst(RouteRow row) {
    return routes.getOrDefault(row.id(), Set.of()).stream()
        .<Expression>map(other -> not(other.locked))
        .toList();
  }

  /**
   * That neither a locked route nor an automatic signal leads trains where a row keeps them off. A
   * train that has passed an automatic signal is locked by nothing but the traffic of its line.
   */
  List<Expression> nothingComesInto(RouteRow row, Circuits circuits) {
    Set<Expression> nothing = new LinkedHashSet<>(noneIsLockedAgainst(row));
    for (AutomaticCircuit automatic : automatics.getOrDefault(row.id(), Set.of())) {
      circuits
          .linesOf(automatic.row)
          .forEach((line, heading) -> nothing.add(not(line.mayCome(heading))));
    }
    return List.copyOf(nothing);
  }
}
