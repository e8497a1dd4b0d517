package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * The cancelling of a route: it is given up when nothing is in it and no train can come any more
 * (time and approach locking, 49 CFR 236.305).
 */
final class CancelCircuit {

  /** It has been cancelled and waits to be released. */
  final Variable cancelling;

  private final RouteRow row;
  private final Variable timeRun;
  private final Variable givenUp;

  CancelCircuit(RouteRow row, NetworkBuilder network) {
    this.row = row;
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";
    cancelling =
        network.latch(
            role + "cancelling",
            Words.fact(name + " is being cancelled", name + " is not being cancelled"));
    timeRun =
        network.timer(
            role + "release time",
            Words.fact(
                "the release time of " + name + " has run",
                "the release time of " + name + " runs"),
            cancelling,
            row.release());
    givenUp = network.equation(role + "given up", Words.through());
  }

  /** That the route is given up. */
  Expression isGivenUp() {
    return is(givenUp);
  }

  void define(RouteCircuit route, Circuits circuits) {
    circuits.network.define(
        cancelling,
        all(is(circuits.signal(row.from()).cancelled), is(route.locked)),
        any(is(route.call.clearedAgain), not(route.locked)));
    circuits.network.define(
        givenUp,
        all(is(cancelling), nothingInside(route, circuits), noTrainCanCome(route, circuits)));
  }

  /**
   * The train that another is called on to is no train of this route. One that stands in the last
   * section alone when the time has run has come through, even if nobody heard it on its way: its
   * occupancy protects it from then on, as behind every train.
   */
  private Expression nothingInside(RouteCircuit route, Circuits circuits) {
    String last = row.path().get(row.path().size() - 1);
    List<Expression> empty = new ArrayList<>();
    for (String section : row.path()) {
      empty.add(
          any(
              not(route.holds(section)),
              is(circuits.section(section).vacant),
              section.equals(last) ? mayBeOccupied(section, route, circuits) : never()));
    }
    return all(empty);
  }

  private Expression mayBeOccupied(String last, RouteCircuit route, Circuits circuits) {
    return any(
        all(route.callsOn(), not(route.accepted())),
        all(is(timeRun), circuits.section(last).isOccupied()));
  }

  /**
   * Time locking, or approach locking where the row names the sections of the approach: a train
   * that may have seen the signal gets the time to pass or to stop.
   */
  private Expression noTrainCanCome(RouteCircuit route, Circuits circuits) {
    return any(is(timeRun), not(route.call.shown), approachClear(route, circuits));
  }

  private Expression approachClear(RouteCircuit route, Circuits circuits) {
    if (row.approach().isEmpty()) {
      return never();
    }
    List<Expression> clear = new ArrayList<>();
    clear.add(not(route.accepted()));
    row.approach().forEach(section -> clear.add(is(circuits.section(section).vacant)));
    return all(clear);
  }
}
