package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import tappet.layout.Position;
import tappet.network.Explanation;
import tappet.network.Variable;
import tappet.sentence.Protected;

/** Who is protected, and what stands against protecting people. */
final class ProtectionReasons {

  private final Circuits circuits;
  private final ProtectionRegister register;
  private final Reasoning reasoning;
  private final SignalReasons signals;
  private final TrackReasons track;

  ProtectionReasons(
      Circuits circuits,
      ProtectionRegister register,
      Reasoning reasoning,
      SignalReasons signals,
      TrackReasons track) {
    this.circuits = circuits;
    this.register = register;
    this.reasoning = reasoning;
    this.signals = signals;
    this.track = track;
  }

  Explanation whoIsProtected() {
    Variable inDoubt = circuits.protections.inDoubt;
    List<Explanation> standing = protections();
    if (is(inDoubt)) {
      return new Explanation(register.words(inDoubt, true), standing);
    }
    return standing.isEmpty()
        ? Explanation.fact("nobody is protected")
        : new Explanation("people are protected", standing);
  }

  /** Each protection that stands. */
  List<Explanation> protections() {
    return register.all().stream().map(Protection::wholeStory).map(Explanation::fact).toList();
  }

  /** What stands against protecting people. */
  List<Explanation> cannotBeProtected(Protection wanted, long nowNs) {
    Set<Explanation> reasons = new LinkedHashSet<>(reasoning.startTime(nowNs));
    for (String device : wanted.devices()) {
      ProtectionCircuit circuit = circuits.protections.of(wanted.by(), device);
      if (!is(circuit.available)) {
        reasons.addAll(reasoning.of(circuit.available));
        routesOver(wanted.by(), device)
            .forEach(route -> reasons.addAll(reasoning.cancelTime(route, nowNs)));
        automaticsInto(wanted.by(), device)
            .forEach(automatic -> reasons.addAll(reasoning.stopTime(automatic, nowNs)));
      }
    }
    return List.copyOf(reasons);
  }

  private List<RouteCircuit> routesOver(Protected by, String device) {
    return switch (by.device()) {
      case SECTION -> circuits.routesOver(device);
      case SWITCH -> circuits.routesSetting(device);
      case SIGNAL -> circuits.routesFrom(device);
    };
  }

  private List<AutomaticCircuit> automaticsInto(Protected by, String device) {
    return by.device() == Protected.Device.SECTION ? circuits.automaticsOver(device) : List.of();
  }

  /** What those who give a protection and those who get it are both to know. */
  List<Explanation> toBeAgreedOn(Protection given, long nowNs) {
    List<Explanation> facts = new ArrayList<>();
    for (String device : given.devices()) {
      switch (given.by().device()) {
        case SECTION -> {
          facts.addAll(notClear(circuits.section(device)));
          facts.addAll(releasedIn(device));
        }
        case SIGNAL -> facts.addAll(stillLinedFrom(circuits.signal(device), nowNs));
        case SWITCH -> facts.add(Explanation.fact(track.lie(circuits.toe(device))));
      }
    }
    return facts;
  }

  private List<Explanation> notClear(SectionCircuit section) {
    return is(section.clear) ? List.of() : List.of(Explanation.fact(track.occupancy(section)));
  }

  private List<Explanation> releasedIn(String section) {
    return circuits.locksIn(section).stream()
        .flatMap(lock -> track.holding(lock).stream())
        .map(Explanation::fact)
        .toList();
  }

  private List<Explanation> stillLinedFrom(SignalCircuit signal, long nowNs) {
    List<Explanation> facts = new ArrayList<>();
    circuits.routesFrom(signal.signal.id()).stream()
        .filter(route -> is(route.locked))
        .forEach(route -> facts.add(Explanation.fact(route.locked.words().whenTrue())));
    facts.addAll(signals.stillLocked(signal, nowNs));
    return facts;
  }

  /** Why a switch is not sent to a position for the holder of the permit in which it lies. */
  List<Explanation> isBlockedForHolder(ProtectedSwitch toe, Position position, long nowNs) {
    return reasoning.keeping(toe.lockedForHolder(), toe.blockedForHolder(position), nowNs);
  }

  private boolean is(Variable variable) {
    return reasoning.is(variable);
  }
}
