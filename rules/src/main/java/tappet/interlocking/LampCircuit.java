package tappet.interlocking;

import tappet.layout.Lamp;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.Indicator;

/** A lamp that is lit while an owner's condition is known to hold. */
final class LampCircuit implements LinesideCircuit {

  final Lamp lamp;

  /** It is to be lit. */
  final Variable lit;

  private final Indicator indicator;

  LampCircuit(Lamp lamp, Indicator indicator, NetworkBuilder network) {
    this.lamp = lamp;
    this.indicator = indicator;
    this.lit = declare(lamp, network);
  }

  /** The variable that tells whether a lamp is to be lit. */
  static Variable declare(Lamp lamp, NetworkBuilder network) {
    String name = Naming.device(lamp);
    return network.equation(
        lamp.key() + ": lit", Words.because(name + " is lit", name + " is dark"));
  }

  @Override
  public void define(Circuits circuits) {
    Expression holds = circuits.conditions().holds(indicator.when());
    circuits.network.define(lit, holds);
  }

  @Override
  public Explanation explain(Stepper stepper, Explainer explainer) {
    return explainer.explain(lit);
  }
}
