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

  private final List<LinesideCircuits.Press> presses = new ArrayList<>();
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

  /** A signal may show something else now. */
  void touch(SignalCircuit signal) {
    touched.add(signal);
  }

  /** A switch or lock is to be moved. */
  void move(Output output) {
    outputs.add(output);
  }

  /** A lamp, grade crossing or opening is told {@code output} on account of a variable. */
  void order(Variable variable, Output output) {
    lineside.put(variable, output);
  }

  /** A button asks for something. */
  void press(LinesideCircuits.Press press) {
    presses.add(press);
  }

  /** What people are told. */
  void tell(String what) {
    changes.add(what);
  }

  /** Takes what buttons have asked and nobody has seen to. */
  List<LinesideCircuits.Press> takePresses() {
    List<LinesideCircuits.Press> taken = List.copyOf(presses);
    presses.clear();
    return taken;
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
