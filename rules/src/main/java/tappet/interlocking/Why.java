package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Timers;
import tappet.network.Variable;
import tappet.sentence.Protected;

/**
 * Answers "why?" about devices and routes: picks the equations to ask and leaves the reasons to
 * them.
 */
final class Why {

  private static final long NS_PER_SECOND = 1_000_000_000L;
  private static final String PROTECTIONS = "protections";

  private final Circuits circuits;
  private final Stepper stepper;
  private final Timers timers;
  private final ProtectionRegister register;
  private final Explainer explainer;

  Why(Circuits circuits, Stepper stepper, Timers timers, ProtectionRegister register) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.timers = timers;
    this.register = register;
    this.explainer = new Explainer(stepper, register::words);
  }

  List<String> names() {
    List<String> names = new ArrayList<>(circuits.signals.keySet());
    names.addAll(circuits.switches.keySet());
    names.addAll(circuits.sections.keySet());
    names.addAll(circuits.routes.keySet());
    names.add(PROTECTIONS);
    return names;
  }

  Optional<Explanation> of(String name, long nowNs) {
    if (circuits.signals.containsKey(name)) {
      return Optional.of(signal(circuits.signal(name), nowNs));
    }
    if (circuits.switches.containsKey(name)) {
      return Optional.of(toe(circuits.toe(name), nowNs));
    }
    if (circuits.sections.containsKey(name)) {
      return Optional.of(section(circuits.section(name)));
    }
    if (circuits.routes.containsKey(name)) {
      return Optional.of(route(circuits.route(name), nowNs));
    }
    if (name.equals(PROTECTIONS)) {
      return Optional.of(whoIsProtected());
    }
    return circuits.built().find(name).map(explainer::explain);
  }

  private Explanation signal(SignalCircuit signal, long nowNs) {
    String aspect = Outlets.aspect(signal, stepper);
    String shows = Naming.signal(signal.signal) + " shows " + aspect;
    return new Explanation(
        shows, aspect.equals(Signal.STOP) ? stopped(signal, nowNs) : proceeding(signal));
  }

  private List<Explanation> stopped(SignalCircuit signal, long nowNs) {
    if (!is(signal.lined)) {
      List<Explanation> reasons = new ArrayList<>();
      reasons.add(Explanation.fact(signal.lined.words().whenFalse()));
      circuits
          .routesFrom(signal.signal.id())
          .forEach(route -> reasons.add(couldBeLined(route, nowNs)));
      return reasons;
    }
    return circuits.routesFrom(signal.signal.id()).stream()
        .filter(route -> is(route.locked))
        .map(route -> lockedButStopped(route, nowNs))
        .toList();
  }

  private List<Explanation> proceeding(SignalCircuit signal) {
    List<Explanation> reasons = new ArrayList<>();
    for (RouteCircuit route : circuits.routesFrom(signal.signal.id())) {
      if (is(route.proceeds)) {
        reasons.add(Explanation.fact(Naming.route(route.row) + " is lined and proved"));
        reasons.add(
            Explanation.fact(
                "its speed is " + route.row.speed() + ", and " + whatLiesBeyond(route)));
      }
    }
    return reasons;
  }

  private String whatLiesBeyond(RouteCircuit route) {
    return route
        .row
        .nextSignal()
        .map(circuits::signal)
        .map(next -> Naming.signal(next.signal) + " shows " + Outlets.aspect(next, stepper))
        .orElse("the track ends beyond");
  }

  private Explanation lockedButStopped(RouteCircuit route, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(cancelTime(route, nowNs));
    if (is(route.accepted())) {
      reasons.add(Explanation.fact(route.accepted().words().whenTrue()));
    } else {
      reasons.addAll(explainer.reasonsOf(route.proceeds));
    }
    return new Explanation(Naming.route(route.row) + " is locked, but", reasons);
  }

  private Explanation couldBeLined(RouteCircuit route, long nowNs) {
    return is(route.available)
        ? Explanation.fact(route.available.words().whenTrue())
        : new Explanation(route.available.words().whenFalse(), cannotBeLined(route, nowNs));
  }

  private Explanation toe(SwitchCircuit toe, long nowNs) {
    List<Explanation> reasons = new ArrayList<>();
    if (is(toe.outOfCorrespondence)) {
      reasons.add(Explanation.fact(toe.outOfCorrespondence.words().whenTrue()));
    }
    reasons.add(
        is(toe.locked)
            ? new Explanation(toe.locked.words().whenTrue(), isLocked(toe, nowNs))
            : Explanation.fact(toe.locked.words().whenFalse()));
    return new Explanation(lie(toe), reasons);
  }

  private String lie(SwitchCircuit toe) {
    for (Position position : Position.values()) {
      if (is(toe.lies(position))) {
        return toe.lies(position).words().whenTrue();
      }
    }
    return Naming.toe(toe.toe) + " is not detected in either position";
  }

  private Explanation section(SectionCircuit section) {
    List<Explanation> reasons = new ArrayList<>();
    if (is(section.clear) && !is(section.vacant)) {
      reasons.addAll(explainer.reasonsOf(section.vacant));
    }
    if (is(section.held)) {
      reasons.addAll(explainer.reasonsOf(section.held));
    }
    Variable closed = circuits.protections.of(section).closed;
    if (is(closed)) {
      reasons.addAll(explainer.reasonsOf(closed));
    }
    return new Explanation(occupancy(section), reasons);
  }

  private String occupancy(SectionCircuit section) {
    if (!is(section.known)) {
      return section.known.words().whenFalse();
    }
    return is(section.occupied)
        ? section.occupied.words().whenTrue()
        : Naming.section(section.section) + " is clear";
  }

  private Explanation route(RouteCircuit route, long nowNs) {
    if (!is(route.locked)) {
      return couldBeLined(route, nowNs);
    }
    List<Explanation> reasons = new ArrayList<>(cancelTime(route, nowNs));
    reasons.addAll(explainer.reasonsOf(route.locked));
    if (is(route.signalCalled)) {
      reasons.addAll(waitingFor(route));
    }
    return new Explanation(route.locked.words().whenTrue(), reasons);
  }

  /** What a lined route's signal still waits for; empty where it proceeds. */
  List<Explanation> waitingFor(RouteCircuit route) {
    return is(route.proved) ? List.of() : explainer.reasonsOf(route.proved);
  }

  /** What stands against lining a route; a switch that only repeats the rest is left out. */
  List<Explanation> cannotBeLined(RouteCircuit route, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(cancelTime(route, nowNs));
    List<Explanation> demands = explainer.reasonsOf(route.available);
    demands.stream()
        .filter(demand -> demand.because().isEmpty() || !demands.containsAll(demand.because()))
        .forEach(reasons::add);
    return reasons;
  }

  /** What keeps a cancelled signal's routes locked for now. */
  List<Explanation> stillLocked(SignalCircuit signal, long nowNs) {
    return circuits.routesFrom(signal.signal.id()).stream()
        .filter(route -> is(route.locked))
        .flatMap(route -> cancelTime(route, nowNs).stream())
        .toList();
  }

  /** What locks a switch. */
  List<Explanation> isLocked(SwitchCircuit toe, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(explainer.reasonsOf(toe.locked));
    return reasons;
  }

  /** What locks a switch for the holder of the permit in which it lies. */
  List<Explanation> isLockedForHolder(ProtectedSwitch toe, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(explainer.reasonsOf(toe.lockedForHolder()));
    return reasons;
  }

  /** What stands against protecting people. */
  List<Explanation> cannotBeProtected(Protection wanted, long nowNs) {
    Set<Explanation> reasons = new LinkedHashSet<>(startTime(nowNs));
    for (String device : wanted.devices()) {
      ProtectionCircuit circuit = circuits.protections.of(wanted.by(), device);
      if (!is(circuit.available)) {
        reasons.addAll(explainer.reasonsOf(circuit.available));
        routesOver(wanted.by(), device).forEach(route -> reasons.addAll(cancelTime(route, nowNs)));
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

  /** What those who give a protection and those who get it are both to know. */
  List<Explanation> toBeAgreedOn(Protection given, long nowNs) {
    List<Explanation> facts = new ArrayList<>();
    for (String device : given.devices()) {
      switch (given.by().device()) {
        case SECTION -> facts.addAll(notClear(circuits.section(device)));
        case SIGNAL -> facts.addAll(stillLinedFrom(circuits.signal(device), nowNs));
        case SWITCH -> facts.add(Explanation.fact(lie(circuits.toe(device))));
      }
    }
    return facts;
  }

  private List<Explanation> notClear(SectionCircuit section) {
    return is(section.clear) ? List.of() : List.of(Explanation.fact(occupancy(section)));
  }

  private List<Explanation> stillLinedFrom(SignalCircuit signal, long nowNs) {
    List<Explanation> facts = new ArrayList<>();
    circuits.routesFrom(signal.signal.id()).stream()
        .filter(route -> is(route.locked))
        .forEach(route -> facts.add(Explanation.fact(route.locked.words().whenTrue())));
    facts.addAll(stillLocked(signal, nowNs));
    return facts;
  }

  /** Each protection that stands. */
  List<Explanation> protections() {
    return register.all().stream().map(Protection::wholeStory).map(Explanation::fact).toList();
  }

  private Explanation whoIsProtected() {
    Variable inDoubt = circuits.protections.inDoubt;
    List<Explanation> standing = protections();
    if (is(inDoubt)) {
      return new Explanation(register.words(inDoubt, true), standing);
    }
    return standing.isEmpty()
        ? Explanation.fact("nobody is protected")
        : new Explanation("people are protected", standing);
  }

  private List<Explanation> startTime(long nowNs) {
    return is(circuits.started)
        ? List.of()
        : List.of(timed("the time since the start still runs", circuits.starting, nowNs));
  }

  private List<Explanation> cancelTime(RouteCircuit route, long nowNs) {
    if (!is(route.cancelling)) {
      return List.of();
    }
    String cancelled = route.cancelling.words().whenTrue();
    return List.of(
        timers.dueNs(route.cancelling).isPresent()
            ? timed(cancelled + " and its release time runs", route.cancelling, nowNs)
            : Explanation.fact(cancelled + " and waits for its sections to become vacant"));
  }

  private Explanation timed(String clause, Variable running, long nowNs) {
    OptionalLong due = timers.dueNs(running);
    if (due.isEmpty()) {
      return Explanation.fact(clause);
    }
    long seconds = Math.max(0, (due.getAsLong() - nowNs + NS_PER_SECOND - 1) / NS_PER_SECOND);
    return Explanation.fact(clause + ", " + seconds + " s left");
  }

  private boolean is(Variable variable) {
    return stepper.value(variable);
  }
}
