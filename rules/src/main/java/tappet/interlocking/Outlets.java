package tappet.interlocking;

import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.VariableTable;

/** Which variables of the network mean something outside it. */
final class Outlets {

  /** What the change of a variable is to people; empty where that change is not worth a word. */
  private record Telling(String whenTrue, String whenFalse) {

    String when(boolean value) {
      return value ? whenTrue : whenFalse;
    }
  }

  private final VariableTable<SignalCircuit> signals;
  private final VariableTable<Output.Throw> throwsOf;
  private final VariableTable<Telling> tellings;
  private final Set<Variable> alarms = new HashSet<>();

  Outlets(Circuits circuits) {
    signals = new VariableTable<>(circuits.built());
    throwsOf = new VariableTable<>(circuits.built());
    tellings = new VariableTable<>(circuits.built());
    circuits.emergencies.values().forEach(this::tellOf);
    circuits.sections.values().forEach(this::tellOf);
    circuits.switches.values().forEach(this::tellOf);
    circuits.routes.values().forEach(this::tellOf);
    for (SignalCircuit signal : circuits.signals.values()) {
      signal.shows().values().forEach(shown -> signals.put(shown, signal));
    }
    circuits.emergencies.values().forEach(emergency -> alarms.add(emergency.stands));
    circuits.switches.values().forEach(toe -> alarms.add(toe.outOfCorrespondence));
    alarms.add(circuits.protections.inDoubt);
  }

  /** The signal that a variable makes show something. */
  Optional<SignalCircuit> signalOf(Variable variable) {
    return signals.get(variable);
  }

  /** The switch movement that a variable asks for when it becomes true. */
  Optional<Output.Throw> throwOf(Variable variable) {
    return throwsOf.get(variable);
  }

  /** Whether a person must see to it while a variable is true. */
  boolean isAlarm(Variable variable) {
    return alarms.contains(variable);
  }

  /** What to tell people when a variable becomes {@code value}. */
  Optional<String> telling(Variable variable, boolean value) {
    return tellings
        .get(variable)
        .map(telling -> telling.when(value))
        .filter(words -> !words.isEmpty());
  }

  /** The aspect a signal shows now. */
  static String aspect(SignalCircuit signal, Stepper stepper) {
    for (Map.Entry<String, Variable> shown : signal.shows().entrySet()) {
      if (stepper.value(shown.getValue())) {
        return shown.getKey();
      }
    }
    return Signal.STOP;
  }

  private void tellOf(SectionCircuit circuit) {
    String name = Naming.section(circuit.section);
    tell(circuit.occupied, name + " is occupied", "");
    tell(circuit.clear, name + " is clear", "");
    tell(circuit.known, "", name + " is unknown");
  }

  private void tellOf(EmergencyCircuit circuit) {
    String word = circuit.kind.word();
    tell(circuit.stands, "an " + word + " is called", "the " + word + " is cleared");
  }

  private void tellOf(SwitchCircuit circuit) {
    String name = Naming.toe(circuit.toe);
    for (Position position : Position.values()) {
      String word = position.word();
      throwsOf.put(circuit.sent(position), new Output.Throw(circuit.toe.id(), position));
      tell(circuit.sent(position), name + " is sent " + word, "");
      tell(circuit.lies(position), name + " lies " + word, name + " has left " + word);
    }
    tell(
        circuit.outOfCorrespondence,
        name + " is out of correspondence",
        name + " is in correspondence again");
  }

  private void tellOf(RouteCircuit circuit) {
    String name = Naming.route(circuit.row);
    tell(circuit.locked, name + " is locked", name + " is released");
    tell(circuit.cancelling, name + " is being cancelled", "");
    for (String section : circuit.row.path()) {
      tell(circuit.holds(section), "", name + " lets section " + section + " go");
    }
  }

  private void tell(Variable variable, String whenTrue, String whenFalse) {
    tellings.put(variable, new Telling(whenTrue, whenFalse));
  }
}
