package tappet.interlocking;

import java.util.Optional;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.rules.RouteRow;

/** By what a signal clears: a route that was lined, or the way beyond an automatic signal. */
interface Clearing {

  /** Its row of the control table. */
  RouteRow row();

  /** Its signal shows a proceed aspect. */
  Variable proceeds();

  /** It is locked by having been lined, or its signal is called by the traffic of its line. */
  Variable locked();

  /** True while its signal only calls a train on; empty where it never does. */
  Optional<Variable> callingOn();

  /** That its signal only calls a train on. */
  default Expression callsOn() {
    return callingOn().map(Expression::is).orElse(Expression.never());
  }
}
