package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * The call of a route's signal: from the grant until a person, a train or a failure puts the signal
 * back. Nothing re-clears by itself: what was shown and is no longer proved must be asked for
 * again.
 */
final class SignalCall {

  /** Its signal is to clear as soon as, and as long as, everything is proved. */
  final Variable called;

  /** A proceed aspect has been shown since it was granted: a train may have accepted it. */
  final Variable shown;

  /** Held whole and unused with its signal put back: asking once more clears the signal again. */
  final Variable canClearAgain;

  /** It is asked for once more, and its signal is called again. */
  final Variable clearedAgain;

  SignalCall(RouteRow row, NetworkBuilder network) {
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";
    canClearAgain = network.equation(role + "can clear again", Words.through());
    clearedAgain = network.equation(role + "cleared again", Words.through());
    called =
        network.latch(
            role + "signal called",
            Words.fact(
                "its signal is called",
                "its signal has been put back to stop; line the route again to clear it"));
    shown =
        network.latch(
            role + "shown",
            Words.fact(
                "a train may have accepted the signal of " + name,
                "the signal of " + name + " has not been shown"));
  }

  void define(RouteCircuit route, Circuits circuits) {
    NetworkBuilder network = circuits.network;
    String signal = route.row.from();
    network.define(canClearAgain, all(is(route.proved), not(called), not(route.accepted())));
    network.define(clearedAgain, all(is(route.asked), is(canClearAgain)));
    network.define(
        called,
        any(is(route.granted), is(clearedAgain)),
        any(
            is(circuits.signal(signal).cancelled),
            is(route.accepted()),
            all(is(shown), is(called), not(route.proved)),
            anyEmergency(circuits),
            is(circuits.protections.blockedSignal(signal))));
    network.define(shown, is(route.proceeds), not(route.locked));
  }

  /** Also before it has been shown: who lined it may have gone when the emergency is cleared. */
  private static Expression anyEmergency(Circuits circuits) {
    return any(circuits.emergencies.values().stream().map(kind -> is(kind.stands)).toList());
  }
}
