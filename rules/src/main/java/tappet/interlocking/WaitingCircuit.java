package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * A route that waits to be lined without anyone asking again.
 *
 * <p>What is fleeted or stacked is forgotten when something becomes unknown, an emergency is called
 * or people come to be protected: nothing clears again by itself then.
 */
final class WaitingCircuit {

  /** Lined again behind each train. */
  final Variable fleeted;

  /** Waits to be lined once. */
  final Variable stacked;

  /** Fleeted or stacked: asked for as soon as it is available. */
  final Variable waits;

  /** Someone asks for it to be fleeted. */
  final Variable fleetAsked;

  /** Someone asks for it to be stacked. */
  final Variable stackAsked;

  WaitingCircuit(RouteRow row, NetworkBuilder network) {
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";
    fleetAsked = network.pulse(role + "fleet asked", Words.through());
    stackAsked = network.pulse(role + "stack asked", Words.through());
    fleeted =
        network.latch(role + "fleeted", Words.fact(name + " is fleeted", name + " is not fleeted"));
    stacked =
        network.latch(role + "stacked", Words.fact(name + " is stacked", name + " is not stacked"));
    waits = network.equation(role + "waits", Words.through(), any(is(fleeted), is(stacked)));
  }

  void define(RouteCircuit route, Circuits circuits) {
    SignalCircuit signal = circuits.signal(route.row.from());
    Expression interrupted = any(interruptions(route.row, signal, circuits));
    circuits.network.define(
        fleeted,
        all(
            is(fleetAsked),
            any(is(route.granted), is(route.call.clearedAgain), is(route.call.called))),
        any(interrupted, is(signal.unfleeted)));
    circuits.network.define(
        stacked, is(stackAsked), any(interrupted, is(signal.unstacked), is(route.granted)));
  }

  private static List<Expression> interruptions(
      RouteRow row, SignalCircuit signal, Circuits circuits) {
    List<Expression> interruptions = new ArrayList<>();
    circuits.emergencies.values().forEach(kind -> interruptions.add(is(kind.stands)));
    row.path().forEach(section -> interruptions.add(not(circuits.section(section).known)));
    circuits.protections.allow(row).forEach(free -> interruptions.add(not(free)));
    interruptions.add(is(signal.cancelled));
    return interruptions;
  }
}
