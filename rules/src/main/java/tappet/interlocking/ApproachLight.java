package tappet.interlocking;

import tappet.layout.Signal;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.SignalLight;

/**
 * Whether the lamps of a signal are out because nobody is there to see them. What the signal means
 * goes on behind dark lamps, and where nothing is known of the approach they are lit: dark by
 * intention is not dark by failure (sheet H.16; approach lighting, section B).
 */
final class ApproachLight {

  private final SignalLight rule;
  final Variable dark;

  ApproachLight(SignalLight rule, Signal signal, NetworkBuilder network) {
    this.rule = rule;
    String name = Naming.signal(signal);
    dark =
        network.equation(
            "signal " + signal.id() + ": dark",
            Words.fact(name + " is dark until a train comes", name + " is lit"));
  }

  void define(Circuits circuits) {
    circuits.network.define(dark, circuits.conditions().isKnownNotToHold(rule.when()));
  }
}
