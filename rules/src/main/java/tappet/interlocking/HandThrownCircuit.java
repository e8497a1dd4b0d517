package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.layout.Control;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * What a person must see to at a switch that no motor moves: that it was opened under a lined route
 * (49 CFR 236.6), or that its spring does not close it (49 CFR 236.12).
 */
final class HandThrownCircuit {

  private final Variable opened;
  private final Optional<Variable> doesNotClose;
  private final Optional<Variable> standsOpen;

  HandThrownCircuit(Switch lead, NetworkBuilder network) {
    String name = Naming.toe(lead);
    String role = "switch " + lead.id() + ": ";
    opened =
        network.equation(
            role + "opened under a route",
            Words.fact(
                name + " has left its place under a lined route", name + " is in its place again"));
    standsOpen =
        lead.control() == Control.SPRUNG
            ? Optional.of(network.equation(role + "stands open", Words.through()))
            : Optional.empty();
    doesNotClose =
        standsOpen.map(
            open ->
                network.timer(
                    role + "time to close",
                    Words.fact(name + " has not closed", name + " has closed"),
                    open,
                    lead.throwTime()));
  }

  List<Variable> alarms() {
    List<Variable> alarms = new ArrayList<>(List.of(opened));
    doesNotClose.ifPresent(alarms::add);
    return alarms;
  }

  void define(List<SwitchCircuit> ends, Circuits circuits) {
    circuits.network.define(opened, any(openings(ends, circuits)));
    standsOpen.ifPresent(open -> circuits.network.define(open, open(ends, circuits)));
  }

  private static List<Expression> openings(List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> openings = new ArrayList<>();
    for (SwitchCircuit end : ends) {
      for (RouteCircuit route : circuits.routesSetting(end.toe.id())) {
        for (Expression claim : route.claimsOn(end.toe)) {
          Position wanted = route.positionOf(end.toe).orElseThrow();
          openings.add(all(claim, all(opening(wanted, ends, circuits))));
        }
      }
    }
    return openings;
  }

  /** A crew to which it is released may throw it under the route that brought its train. */
  private static List<Expression> opening(
      Position wanted, List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> parts = new ArrayList<>();
    parts.add(Expression.not(SwitchCircuit.allLie(wanted, ends)));
    circuits.lock(ends.get(0).toe).ifPresent(lock -> parts.add(not(lock.released)));
    return parts;
  }

  /** A train that trails through holds it open, and must not be told of (49 CFR 236.12–13). */
  private static Expression open(List<SwitchCircuit> ends, Circuits circuits) {
    return all(
        SwitchCircuit.vacant(ends, circuits),
        Expression.not(SwitchCircuit.allLie(Position.NORMAL, ends)));
  }
}
