package tappet.interlocking;

import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Stepper;

/** The circuit of a device that is neither section, switch nor signal. */
interface LinesideCircuit {

  /** Writes the equations. */
  void define(Circuits circuits);

  /** What the device is now, and why. */
  Explanation explain(Stepper stepper, Explainer explainer);
}
