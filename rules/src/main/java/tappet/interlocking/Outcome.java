package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashMap;
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
  private final Map<String, Optional<String>> lit;
  private final Set<SignalCircuit> touched = new LinkedHashSet<>();

  /** What lamps, grade crossings and openings are told: the last word of the step counts. */
  private final Map<Variable, Output> lineside = new LinkedHashMap<>();

  private final List<Output> outputs = new ArrayList<>();
  private final List<String> changes = new ArrayList<>();

  /**
   * @param showing by signal: the aspect it means to show; kept up to date here
   * @param lit by signal: what its lights were last told, nothing where they are dark; kept up to
   *     date here
   */
  Outcome(Outlets outlets, Map<String, String> showing, Map<String, Optional<String>> lit) {
    this.lit = lit;
    this.outlets = outlets;
    this.showing = showing;
  }

  void note(Variable variable, boolean value) {
    outlets.telling(variable, value).ifPresent(changes::add);
    outlets.signalOf(variable).ifPresent(touched::add);
    outlets.linesideOf(variable, value).ifPresent(output -> lineside.put(variable, output));
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
    touched.forEach(signal -> light(signal, outlets.isDark(signal, stepper)));
    outputs.addAll(lineside.values());
    return new Step(outputs, changes, answer);
  }

  private void show(SignalCircuit signal, String aspect) {
    String id = signal.signal.id();
    if (!aspect.equals(showing.put(id, aspect))) {
      changes.add(Naming.signal(signal.signal) + " shows " + signal.signal.called(aspect));
    }
  }

  /** What changes behind dark lights is told to the field when they are lit again. */
  private void light(SignalCircuit signal, boolean dark) {
    String id = signal.signal.id();
    Optional<String> now = dark ? Optional.empty() : Optional.of(showing.get(id));
    if (now.equals(lit.put(id, now))) {
      return;
    }
    boolean first = now.equals(Optional.of(Signal.STOP));
    outputs.add(
        first ? 0 : outputs.size(),
        now.<Output>map(aspect -> new Output.Show(id, aspect)).orElse(new Output.Dark(id)));
  }
}
