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
import tappet.rules.Overlap;
import tappet.rules.RouteRow;

/**
 * Keeps the overlap of a route locked until its train has come to a stand in the last section,
 * which is taken to be so after a time, or until the train may run on.
 */
final class OverlapCircuit {

  /** The overlap is locked. */
  final Variable held;

  private final RouteRow row;
  private final Variable trainHasCome;
  private final Variable timeRun;

  /**
   * The signal at its end has proceeded for the train that comes. A next route that is only locked
   * may be that of the train ahead, or be given up at once since its signal was not shown.
   */
  private final Variable mayRunOn;

  OverlapCircuit(RouteRow row, Overlap overlap, NetworkBuilder network) {
    this.row = row;
    String name = "the overlap of " + Naming.route(row);
    String role = "route " + row.id() + ": ";
    held =
        network.latch(
            role + "holds overlap", Words.fact(name + " is locked", name + " is not locked"));
    trainHasCome = network.equation(role + "overlap runs out", Words.through());
    timeRun =
        network.timer(
            role + "overlap time",
            Words.fact("the time of " + name + " has run", "the time of " + name + " runs"),
            trainHasCome,
            overlap.time());
    mayRunOn = network.latch(role + "train may run on", Words.through());
  }

  void define(RouteCircuit route, Circuits circuits) {
    defineMayRunOn(circuits.routesFrom(row.to()), circuits.network);
    circuits.network.define(trainHasCome, all(is(held), route.isRunThrough()));
    // A train that stands at the end when the route is given up may still be about to stop there.
    String last = row.path().get(row.path().size() - 1);
    Expression givenUpEmpty = all(route.isGivenUp(), is(circuits.section(last).vacant));
    List<Expression> released =
        List.of(givenUpEmpty, is(timeRun), all(is(trainHasCome), is(mayRunOn)));
    circuits.network.define(held, route.isGranted(), any(released));
  }

  private void defineMayRunOn(List<RouteCircuit> onwards, NetworkBuilder network) {
    List<Expression> shown = new ArrayList<>();
    List<Expression> withdrawn = new ArrayList<>();
    withdrawn.add(not(held));
    for (RouteCircuit next : onwards) {
      shown.add(all(is(held), is(next.proceeds)));
      withdrawn.add(is(next.cancelling));
    }
    network.define(mayRunOn, any(shown), any(withdrawn));
  }
}
