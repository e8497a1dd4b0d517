package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;

import java.util.List;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * People protected in one way on one device: given when nothing stands against it, or laid on again
 * at the start, and held until it is given up (49 CFR 214.321, 214.327, 218.29).
 */
final class ProtectionCircuit {

  /** A person asks for it. */
  final Variable asked;

  /** Nothing stands against it. */
  final Variable available;

  /** It is in force. */
  final Variable stands;

  /** It is given up. */
  final Variable ended;

  /** It stood before the start; heard only while the time since the start runs. */
  final Variable restored;

  /**
   * @param role the device and the state, as a name: {@code section a: under permit}
   * @param states what is said while it stands, and while it does not
   */
  ProtectionCircuit(String role, Words states, NetworkBuilder network) {
    asked = network.pulse(role + " asked", Words.through());
    ended = network.pulse(role + " ended", Words.through());
    restored = network.pulse(role + " restored", Words.through());
    available = network.equation(role + " available", Words.through());
    stands = network.latch(role, states);
  }

  void define(List<Expression> demands, Circuits circuits) {
    circuits.network.define(available, all(demands));
    circuits.network.define(
        stands,
        any(all(is(asked), is(available)), all(is(restored), is(circuits.starting))),
        is(ended));
  }
}
