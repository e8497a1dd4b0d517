package tappet.interlocking;

import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.VariableTable;
import tappet.network.Words;
import tappet.sentence.Command.Heading;

/** Which variables of the network mean something outside it. */
final class Outlets {

  /** What the change of a variable is to people; empty where that change is not worth a word. */
  private record Telling(String whenTrue, String whenFalse) {

    String when(boolean value) {
      return value ? whenTrue : whenFalse;
    }
  }

  private final VariableTable<SignalCircuit> signals;
  private final VariableTable<Output> throwsOf;
  private final VariableTable<Telling> tellings;
  private final Map<String, ApproachLight> lights;
  private final VariableTable<LinesideCircuits.Outlet> lineside;
  private final Set<Variable> alarms = new HashSet<>();

  Outlets(Circuits circuits) {
    signals = new VariableTable<>(circuits.built());
    throwsOf = new VariableTable<>(circuits.built());
    tellings = new VariableTable<>(circuits.built());
    circuits.emergencies.values().forEach(this::tellOf);
    circuits.sections.values().forEach(this::tellOf);
    circuits.switches.values().forEach(this::tellOf);
    circuits.lines.values().forEach(this::tellOf);
    circuits.routes.values().forEach(this::tellOf);
    for (SignalCircuit signal : circuits.signals.values()) {
      signal.shows().values().forEach(shown -> signals.put(shown, signal));
      signal.lamps.failures().forEach(this::tellOfLamp);
    }
    lights = circuits.lights;
    lights.forEach((id, light) -> signals.put(light.dark, circuits.signal(id)));
    circuits.emergencies.values().forEach(emergency -> alarms.add(emergency.stands));
    lineside = new VariableTable<>(circuits.built());
    circuits.lineside.outlets().forEach(lineside::put);
    circuits.lineside.tellAll(this::tell);
    circuits.switches.values().forEach(toe -> alarms.addAll(toe.alarms()));
    circuits.motors.values().forEach(this::tellOf);
    circuits.locks.values().forEach(this::tellOf);
    circuits.locks.values().forEach(lock -> alarms.addAll(lock.alarms()));
    alarms.forEach(this::tellBoth);
    alarms.addAll(circuits.lineside.alarms());
    alarms.add(circuits.protections.inDoubt);
  }

  /** What a lamp, a grade crossing or an opening is told when a variable becomes {@code value}. */
  Optional<Output> linesideOf(Variable variable, boolean value) {
    return lineside.get(variable).flatMap(outlet -> outlet.when(value));
  }

  /** The signal that a variable makes show something. */
  Optional<SignalCircuit> signalOf(Variable variable) {
    return signals.get(variable);
  }

  /** The movement of a switch or lock that a variable asks for when it becomes true. */
  Optional<Output> throwOf(Variable variable) {
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

  /** Whether a signal's lights are to be out. */
  boolean isDark(SignalCircuit signal, Stepper stepper) {
    ApproachLight light = lights.get(signal.signal.id());
    return light != null && stepper.value(light.dark);
  }

  private void tellOfLamp(Variable failed) {
    alarms.add(failed);
    tell(failed, failed.words().whenTrue(), failed.words().whenFalse() + " again");
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
      circuit
          .sent(position)
          .ifPresent(
              sent -> {
                throwsOf.put(sent, new Output.Throw(circuit.toe.id(), position));
                tell(sent, name + " is sent " + word, "");
              });
      tellLying(circuit, position);
    }
  }

  private void tellLying(SwitchCircuit circuit, Position position) {
    Words lying = circuit.lies(position).words();
    String name = Naming.toe(circuit.toe);
    String left =
        circuit.toe.isDetected() ? name + " has left " + position.word() : lying.whenFalse();
    tell(circuit.lies(position), lying.whenTrue(), left);
  }

  private void tellOf(MotorCircuit motor) {
    motor.triedAgain().forEach(again -> tell(again, again.words().whenTrue(), ""));
    tell(motor.refused, motor.refused.words().whenTrue(), "");
  }

  private void tellOf(ElectricLockCircuit lock) {
    String id = lock.toe.id();
    throwsOf.put(lock.tellRelease, new Output.Lock(id, LockState.RELEASED));
    throwsOf.put(lock.tellSecure, new Output.Lock(id, LockState.SECURED));
    tell(lock.releasing, lock.releasing.words().whenTrue(), "");
    tell(lock.released, lock.released.words().whenTrue(), "");
    tell(lock.tellSecure, Naming.toe(lock.toe) + " is told to secure", "");
    tellBoth(lock.secured());
  }

  private void tellBoth(Variable variable) {
    tell(variable, variable.words().whenTrue(), variable.words().whenFalse());
  }

  private void tellOf(RouteCircuit circuit) {
    String name = Naming.route(circuit.row);
    tell(circuit.locked, name + " is locked", name + " is released");
    tell(circuit.cancelling, name + " is being cancelled", "");
    tell(circuit.fleeted, name + " is fleeted", name + " is fleeted no longer");
    tell(circuit.stacked, name + " is stacked", name + " is stacked no longer");
    for (String section : circuit.row.path()) {
      tell(circuit.holds(section), "", name + " lets section " + section + " go");
    }
  }

  private void tellOf(TrafficCircuit circuit) {
    String name = "traffic on " + circuit.line.id();
    for (Heading heading : Heading.values()) {
      tell(circuit.lies(heading), name + " is set " + heading.word(), name + " is free");
    }
  }

  private void tell(Variable variable, String whenTrue, String whenFalse) {
    tellings.put(variable, new Telling(whenTrue, whenFalse));
  }
}
