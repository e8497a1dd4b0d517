package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Timers;

/** Answers "why?" about devices and routes by their names. */
final class Why {

  private static final String PROTECTIONS = "protections";

  private final Circuits circuits;
  private final Stepper stepper;
  private final Explainer explainer;

  final Reasoning reasoning;
  final SignalReasons signals;
  final TrackReasons track;
  final ProtectionReasons people;

  Why(Circuits circuits, Stepper stepper, Timers timers, ProtectionRegister register) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.explainer = new Explainer(stepper, register::words);
    this.reasoning = new Reasoning(circuits, stepper, timers, explainer);
    this.signals = new SignalReasons(circuits, stepper, reasoning);
    this.track = new TrackReasons(circuits, reasoning);
    this.people = new ProtectionReasons(circuits, register, reasoning, signals, track);
  }

  List<String> names() {
    List<String> names = new ArrayList<>(circuits.signals.keySet());
    names.addAll(circuits.switches.keySet());
    names.addAll(circuits.sections.keySet());
    names.addAll(circuits.routes.keySet());
    names.addAll(circuits.automatics.keySet());
    names.addAll(circuits.lines.keySet());
    names.addAll(circuits.lineside.names());
    names.add(PROTECTIONS);
    return names;
  }

  Optional<Explanation> of(String name, long nowNs) {
    if (circuits.signals.containsKey(name)) {
      return Optional.of(signals.signal(circuits.signal(name), nowNs));
    }
    if (circuits.switches.containsKey(name)) {
      return Optional.of(track.toe(circuits.toe(name), nowNs));
    }
    if (circuits.sections.containsKey(name)) {
      return Optional.of(track.section(circuits.section(name)));
    }
    if (circuits.routes.containsKey(name)) {
      return Optional.of(signals.route(circuits.route(name), nowNs));
    }
    if (circuits.automatics.containsKey(name)) {
      return Optional.of(signals.automatic(circuits.automatics.get(name)));
    }
    if (circuits.lines.containsKey(name)) {
      return Optional.of(signals.traffic(circuits.lines.get(name)));
    }
    Optional<Explanation> ofLineside = circuits.lineside.why(name, stepper, explainer);
    if (ofLineside.isPresent()) {
      return ofLineside;
    }
    if (name.equals(PROTECTIONS)) {
      return Optional.of(people.whoIsProtected());
    }
    return circuits.built().find(name).map(explainer::explain);
  }
}
