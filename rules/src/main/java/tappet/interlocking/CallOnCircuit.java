package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.List;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * Lets a train into a section that may be occupied, by a restricting aspect: the exception of 49
 * CFR 236.308, which the rule file must name. All else is asked of the route as ever.
 */
final class CallOnCircuit {

  /** Someone asks for it. */
  final Variable asked;

  /** Nothing stands against it. */
  final Variable available;

  /** The route was granted so. */
  final Variable stands;

  private final Variable granted;

  CallOnCircuit(String name, String role, NetworkBuilder network) {
    asked = network.pulse(role + "call on asked", Words.through());
    available =
        network.equation(
            role + "can call on",
            Words.because(name + " can be called on", name + " cannot be called on"));
    granted =
        network.equation(role + "call on granted", Words.through(), all(is(asked), is(available)));
    stands =
        network.latch(
            role + "calls on", Words.last(name + " calls a train on", name + " calls no train on"));
  }

  Expression isGranted() {
    return is(granted);
  }

  void define(RouteCircuit route, List<Expression> demands, NetworkBuilder network) {
    network.define(available, all(demands));
    network.define(stands, is(granted), all(not(route.locked), not(granted)));
  }
}
