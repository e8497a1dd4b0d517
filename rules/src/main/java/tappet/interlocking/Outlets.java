package tappet.interlocking;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.VariableTable;
import tappet.network.Words;
import tappet.sentence.Command.Heading;

/** Which variables of the network mean something outside it. */
final class Outlets {

  /** What the change of a variable is to people; empty where that change is not worth a word. */
  private record Telling(String whenTrue, String whenFalse) implements Meaning {

    @Override
    public void follow(boolean value, Outcome outcome) {
      String words = value ? whenTrue : whenFalse;
      if (!words.isEmpty()) {
        outcome.tell(words);
      }
    }
  }

  private final VariableTable<Meaning> meanings;
  private final Map<String, ApproachLight> lights;
  private final Map<Variable, Telling> tellings = new LinkedHashMap<>();
  private final Set<Variable> alarms = new LinkedHashSet<>();

  /**
   * Finds them.
   *
   * @param requests is told which routes begin to wait and cease to
   * @param standing is told which alarms begin to stand and cease to
   */
  Outlets(Circuits circuits, Network network, StandingRequests requests, StandingAlarms standing) {
    meanings = new VariableTable<>(network, Meaning.NOTHING);
    lights = circuits.lights;
    gatherWords(circuits);
    tellings.forEach(this::mean);
    alarms.forEach(alarm -> mean(alarm, (value, outcome) -> standing.follow(alarm, value)));
    for (RouteCircuit route : circuits.routes.values()) {
      mean(route.waits, (value, outcome) -> requests.follow(route, value));
    }
    circuits.signals.values().forEach(this::show);
    lights.forEach((id, light) -> mean(light.dark, touches(circuits.signal(id))));
    circuits.switches.values().forEach(this::move);
    circuits.locks.values().forEach(this::move);
    order(circuits.lineside);
  }

  /** Lets the change of a variable bring about what it means. */
  void follow(Variable variable, boolean value, Outcome outcome) {
    meanings.get(variable).follow(value, outcome);
  }

  /** What a person must see to while it is true. */
  Set<Variable> alarms() {
    return alarms;
  }

  /** Where one variable is told of twice, the later word counts. */
  private void gatherWords(Circuits circuits) {
    circuits.emergencies.values().forEach(this::tellOf);
    circuits.sections.values().forEach(this::tellOf);
    circuits.switches.values().forEach(this::tellOf);
    circuits.lines.values().forEach(this::tellOf);
    circuits.routes.values().forEach(this::tellOf);
    circuits.signals.values().forEach(signal -> signal.lamps.failures().forEach(this::tellOfLamp));
    circuits.emergencies.values().forEach(emergency -> alarms.add(emergency.stands));
    circuits.lineside.tellAll(this::tell);
    circuits.switches.values().forEach(toe -> alarms.addAll(toe.alarms()));
    circuits.motors.values().forEach(this::tellOf);
    circuits.locks.values().forEach(this::tellOf);
    circuits.locks.values().forEach(lock -> alarms.addAll(lock.alarms()));
    alarms.forEach(this::tellBoth);
    alarms.addAll(circuits.lineside.alarms());
    alarms.add(circuits.protections.inDoubt);
  }

  private void show(SignalCircuit signal) {
    signal.shows().values().forEach(shown -> mean(shown, touches(signal)));
  }

  private void move(SwitchCircuit circuit) {
    for (Position position : Position.values()) {
      Output moved = new Output.Throw(circuit.toe.id(), position);
      circuit.sent(position).ifPresent(sent -> mean(sent, moves(moved)));
    }
  }

  private void move(ElectricLockCircuit lock) {
    String id = lock.toe.id();
    mean(lock.tellRelease, moves(new Output.Lock(id, LockState.RELEASED)));
    mean(lock.tellSecure, moves(new Output.Lock(id, LockState.SECURED)));
  }

  private void order(LinesideCircuits lineside) {
    lineside
        .outlets()
        .forEach(
            (variable, outlet) ->
                mean(
                    variable,
                    (value, outcome) ->
                        outlet.when(value).ifPresent(output -> outcome.order(variable, output))));
    lineside.presses().forEach((counts, press) -> mean(counts, asks(press)));
  }

  private static Meaning touches(SignalCircuit signal) {
    return (value, outcome) -> outcome.touch(signal);
  }

  private static Meaning moves(Output output) {
    return (value, outcome) -> {
      if (value) {
        outcome.move(output);
      }
    };
  }

  private static Meaning asks(LinesideCircuits.Press press) {
    return (value, outcome) -> {
      if (value) {
        outcome.press(press);
      }
    };
  }

  private void mean(Variable variable, Meaning meaning) {
    meanings.put(variable, meanings.get(variable).and(meaning));
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
      circuit.sent(position).ifPresent(sent -> tell(sent, name + " is sent " + word, ""));
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
