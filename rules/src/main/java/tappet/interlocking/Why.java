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
import tappet.sentence.Command.Heading;
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

  /** To whom switches are released. */
  final LockHolders holders = new LockHolders();

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
    names.addAll(circuits.automatics.keySet());
    names.addAll(circuits.lines.keySet());
    names.addAll(circuits.lineside.names());
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
    if (circuits.automatics.containsKey(name)) {
      return Optional.of(automatic(circuits.automatics.get(name)));
    }
    if (circuits.lines.containsKey(name)) {
      return Optional.of(traffic(circuits.lines.get(name)));
    }
    Optional<Explanation> ofLineside = circuits.lineside.why(name, stepper, explainer);
    if (ofLineside.isPresent()) {
      return ofLineside;
    }
    if (name.equals(PROTECTIONS)) {
      return Optional.of(whoIsProtected());
    }
    return circuits.built().find(name).map(explainer::explain);
  }

  private Explanation signal(SignalCircuit signal, long nowNs) {
    String aspect = Outlets.aspect(signal, stepper);
    String shows = Naming.signal(signal.signal) + " shows " + signal.signal.called(aspect);
    List<Explanation> reasons = new ArrayList<>(darkness(signal));
    if (signal.signal.repeats().isPresent()) {
      reasons.addAll(repeating(signal, nowNs));
    } else {
      reasons.addAll(aspect.equals(Signal.STOP) ? stopped(signal, nowNs) : proceeding(signal));
    }
    return new Explanation(shows, reasons);
  }

  private List<Explanation> darkness(SignalCircuit signal) {
    ApproachLight light = circuits.lights.get(signal.signal.id());
    return light != null && is(light.dark)
        ? List.of(Explanation.fact(light.dark.words().whenTrue()))
        : List.of();
  }

  private List<Explanation> repeating(SignalCircuit repeater, long nowNs) {
    SignalCircuit repeated = circuits.signal(repeater.signal.repeats().orElseThrow());
    List<Explanation> reasons = new ArrayList<>(lampsOut(repeater));
    Explanation other = signal(repeated, nowNs);
    reasons.add(
        new Explanation(
            "it repeats signal " + repeated.signal.id() + ": " + other.clause(), other.because()));
    return reasons;
  }

  private List<Explanation> lampsOut(SignalCircuit signal) {
    return signal.lamps.works().stream()
        .filter(works -> !is(works))
        .flatMap(works -> explainer.reasonsOf(works).stream())
        .toList();
  }

  private List<Explanation> stopped(SignalCircuit signal, long nowNs) {
    List<Explanation> waiting = automaticsWaiting(signal);
    if (!waiting.isEmpty()) {
      return waiting;
    }
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
    for (Clearing way : circuits.clearingsFrom(signal.signal.id())) {
      if (is(way.proceeds())) {
        String lined = way.row().automatic() ? " has its traffic set" : " is lined";
        reasons.add(Explanation.fact(Naming.route(way.row()) + lined + " and proved"));
        reasons.add(Explanation.fact(whatLiesBeyond(way)));
        if (signal.lamps.serves(way).filter(serve -> !is(serve)).isPresent()) {
          reasons.addAll(lampsOut(signal));
        }
      }
    }
    return reasons;
  }

  private List<Explanation> automaticsWaiting(SignalCircuit signal) {
    return circuits.automaticsFrom(signal.signal.id()).stream().map(this::automatic).toList();
  }

  private Explanation automatic(AutomaticCircuit automatic) {
    boolean proceeds = is(automatic.proceeds);
    return new Explanation(
        Naming.route(automatic.row) + (proceeds ? " is clear" : " is automatic, but"),
        explainer.reasonsOf(automatic.proceeds));
  }

  private Explanation traffic(TrafficCircuit line) {
    for (Heading heading : Heading.values()) {
      if (is(line.lies(heading))) {
        return new Explanation(
            line.lies(heading).words().whenTrue(), explainer.reasonsOf(line.free));
      }
    }
    return Explanation.fact("traffic on " + line.line.id() + " is set neither way");
  }

  private String whatLiesBeyond(Clearing way) {
    String speed = "its speed is " + way.row().speed() + ", and ";
    boolean callsOn = way.callingOn().filter(this::is).isPresent();
    return callsOn ? "it calls a train on" : speed + nextSignal(way);
  }

  private String nextSignal(Clearing way) {
    return way.row()
        .nextSignal()
        .map(circuits::signal)
        .map(
            next ->
                Naming.signal(next.signal)
                    + " shows "
                    + next.signal.called(Outlets.aspect(next, stepper)))
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
    toe.alarms().stream()
        .filter(this::is)
        .forEach(alarm -> reasons.add(Explanation.fact(alarm.words().whenTrue())));
    ThrownBy.another(toe.toe).ifPresent(another -> reasons.add(Explanation.fact(another)));
    circuits.lock(toe.toe).ifPresent(lock -> reasons.addAll(lock(lock, nowNs)));
    toe.motor.ifPresent(moving -> reasons.add(locked(toe, nowNs)));
    return new Explanation(lie(toe), reasons);
  }

  private Explanation locked(SwitchCircuit toe, long nowNs) {
    return is(toe.locked)
        ? new Explanation(toe.locked.words().whenTrue(), isLocked(toe, nowNs))
        : Explanation.fact(toe.locked.words().whenFalse());
  }

  private List<Explanation> lock(ElectricLockCircuit lock, long nowNs) {
    List<Explanation> reasons = new ArrayList<>();
    lock.alarms().stream()
        .filter(this::is)
        .forEach(alarm -> reasons.add(Explanation.fact(alarm.words().whenTrue())));
    Variable state = is(lock.released) ? lock.released : lock.secured();
    String said = state.words().when(is(state));
    reasons.add(Explanation.fact(is(lock.released) ? holders.to(said, lock.toe) : said));
    reasons.addAll(lockTime(lock, nowNs));
    return reasons;
  }

  /** How long a lock that is to be released still waits; empty where it does not. */
  List<Explanation> lockTime(ElectricLockCircuit lock, long nowNs) {
    return is(lock.releasing)
        ? List.of(timed("its release time runs", lock.releasing, nowNs))
        : List.of();
  }

  /** What a variable follows from, with the time since the start. */
  List<Explanation> reasonsOf(Variable variable, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(explainer.reasonsOf(variable));
    return reasons;
  }

  private String lie(SwitchCircuit toe) {
    for (Position position : Position.values()) {
      if (is(toe.lies(position))) {
        return toe.lies(position).words().whenTrue();
      }
    }
    return Naming.toe(toe.toe)
        + (toe.toe.isDetected()
            ? " is not detected in either position"
            : " is not known to lie in either position (no detection)");
  }

  private Explanation section(SectionCircuit section) {
    List<Explanation> reasons = new ArrayList<>();
    if (!is(section.known)) {
      reasons.addAll(explainer.reasonsOf(section.known));
    }
    if (is(section.clear) && !is(section.vacant)) {
      reasons.addAll(explainer.reasonsOf(section.vacant));
    }
    if (is(section.held)) {
      reasons.addAll(explainer.whatKeeps(section.held));
    }
    Variable closed = circuits.protections.of(section).closed;
    if (is(closed)) {
      reasons.addAll(explainer.whatKeeps(closed));
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
    reasons.addAll(explainer.whatKeeps(route.locked));
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

  /** What stands against calling a train on. */
  List<Explanation> cannotCallOn(RouteCircuit route, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(cancelTime(route, nowNs));
    reasons.addAll(explainer.reasonsOf(route.callOn.orElseThrow().available));
    return reasons;
  }

  /** What an equation follows from. */
  List<Explanation> reasonsOf(Variable variable) {
    return explainer.reasonsOf(variable);
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
    reasons.addAll(explainer.whatKeeps(toe.locked));
    return reasons;
  }

  /** Why something that a person asks for is not possible. */
  List<Explanation> impossible(Variable possible, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(explainer.reasonsOf(possible));
    return reasons;
  }

  /** What locks a switch for the holder of the permit in which it lies. */
  List<Explanation> isLockedForHolder(ProtectedSwitch toe, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(explainer.whatKeeps(toe.lockedForHolder()));
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
