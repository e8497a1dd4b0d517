package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Signal;
import tappet.network.Stepper;
import tappet.network.Variable;

/** Gathers what one step brings about while the network settles. */
final class Outcome {

  private final Outlets outlets;
  private final Map<String, String> showing;
  private final Set<SignalCircuit> touched = new LinkedHashSet<>();
  private final List<Output> outputs = new ArrayList<>();
  private final List<String> changes = new ArrayList<>();

  /**
   * @param showing by signal: the aspect the field was last told; kept up to date here
   */
  Outcome(Outlets outlets, Map<String, String> showing) {
    this.outlets = outlets;
    this.showing = showing;
  }

  void note(Variable variable, boolean value) {
    outlets.telling(variable, value).ifPresent(changes::add);
    outlets.signalOf(variable).ifPresent(touched::add);
    if (value) {
      outlets.throwOf(variable).ifPresent(outputs::add);
    }
  }

  /** Tells people something that no variable tells by itself. */
  void tell(String what) {
    changes.add(what);
  }

  Step step(Stepper stepper, Optional<Answer> answer) {
    touched.forEach(signal -> show(signal, Outlets.aspect(signal, stepper)));
    return new Step(outputs, changes, answer);
  }

  private void show(SignalCircuit signal, String aspect) {
    String id = signal.signal.id();
    if (aspect.equals(showing.put(id, aspect))) {
      return;
    }
    changes.add(Naming.signal(signal.signal) + " shows " + aspect);
    outputs.add(aspect.equals(Signal.STOP) ? 0 : outputs.size(), new Output.Show(id, aspect));
  }
}
