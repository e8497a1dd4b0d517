package tappet.interlocking;

import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import tappet.network.Expression;
import tappet.rules.RouteRow;

/** What must be so before a route takes anything. */
final class Demands {

  private final RouteCircuit route;
  private final Circuits circuits;

  Demands(RouteCircuit route, Circuits circuits) {
    this.route = route;
    this.circuits = circuits;
  }

  /** All of it but the vacancy of the route's sections. */
  List<Expression> besidesSections() {
    RouteRow row = route.row;
    List<Expression> demands = new ArrayList<>();
    demands.add(is(circuits.started));
    demands.addAll(circuits.noEmergency());
    row.path().forEach(section -> demands.add(not(circuits.section(section).held)));
    demands.addAll(new Proof(row, circuits).vacant(row.alsoClear()));
    row.switches().forEach((id, at) -> demands.add(not(circuits.toe(id).blocked(at))));
    row.flank().forEach((id, at) -> demands.add(not(circuits.toe(id).blocked(at))));
    demands.addAll(new Proof(row, circuits).locksHold());
    demands.addAll(circuits.conflicts().nothingComesInto(row, circuits));
    circuits.linesOf(row).forEach((line, heading) -> demands.add(not(line.closed(heading))));
    route.overlap.ifPresent(beyond -> demands.add(not(beyond.held)));
    demands.addAll(circuits.protections.allow(row));
    demands.addAll(circuits.ownersNeeds(row));
    demands.addAll(circuits.lineside.demandsOf(row));
    return demands;
  }
}
