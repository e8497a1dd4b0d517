package tappet.interlocking;

import static tappet.network.Expression.is;

import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * One kind of emergency. While it stands every signal is at Stop and every switch is locked; when
 * it is cleared nothing clears again by itself, since each signal was put back and must be asked
 * for.
 */
final class EmergencyCircuit {

  final Emergency kind;
  final Variable called;
  final Variable cleared;
  final Variable stands;

  EmergencyCircuit(Emergency kind, NetworkBuilder network) {
    this.kind = kind;
    String role = kind.word() + ": ";
    called = network.pulse(role + "called", Words.through());
    cleared = network.pulse(role + "cleared", Words.through());
    stands =
        network.latch(
            role + "stands",
            Words.fact("an " + kind.word() + " stands", "no " + kind.word() + " stands"));
    network.define(stands, is(called), is(cleared));
  }
}
