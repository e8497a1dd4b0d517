package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import tappet.layout.Signal;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.sentence.Command.Heading;

/** Why signals show what they show, and what stands against lining their routes. */
final class SignalReasons {

  private final Circuits circuits;
  private final Stepper stepper;
  private final Reasoning reasoning;

  SignalReasons(Circuits circuits, Stepper stepper, Reasoning reasoning) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.reasoning = reasoning;
  }

  Explanation signal(SignalCircuit signal, long nowNs) {
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
        .flatMap(works -> reasoning.of(works).stream())
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

  /** That its traffic is kept goes without saying: it is called by that. */
  Explanation automatic(AutomaticCircuit automatic) {
    boolean proceeds = is(automatic.proceeds);
    List<Explanation> reasons =
        Stream.of(automatic.called, automatic.proved)
            .filter(part -> is(part) == proceeds)
            .flatMap(part -> reasoning.of(part).stream())
            .distinct()
            .toList();
    String told = proceeds ? " is clear" : " is automatic, but";
    return new Explanation(Naming.route(automatic.row) + told, reasons);
  }

  Explanation traffic(TrafficCircuit line) {
    for (Heading heading : Heading.values()) {
      if (is(line.lies(heading))) {
        return new Explanation(line.lies(heading).words().whenTrue(), reasoning.of(line.free));
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
    List<Explanation> reasons = new ArrayList<>(reasoning.cancelTime(route, nowNs));
    if (is(route.accepted())) {
      reasons.add(Explanation.fact(route.accepted().words().whenTrue()));
    } else {
      reasons.addAll(reasoning.of(route.proceeds));
    }
    return new Explanation(Naming.route(route.row) + " is locked, but", reasons);
  }

  private Explanation couldBeLined(RouteCircuit route, long nowNs) {
    return is(route.available)
        ? Explanation.fact(route.available.words().whenTrue())
        : new Explanation(route.available.words().whenFalse(), cannotBeLined(route, nowNs));
  }

  Explanation route(RouteCircuit route, long nowNs) {
    if (!is(route.locked)) {
      return couldBeLined(route, nowNs);
    }
    List<Explanation> reasons = new ArrayList<>(reasoning.cancelTime(route, nowNs));
    reasons.addAll(reasoning.keeping(route.locked));
    if (is(route.signalCalled)) {
      reasons.addAll(waitingFor(route));
    }
    return new Explanation(route.locked.words().whenTrue(), reasons);
  }

  /** What a lined route's signal still waits for; empty where it proceeds. */
  List<Explanation> waitingFor(RouteCircuit route) {
    return is(route.proved) ? List.of() : reasoning.of(route.proved);
  }

  /** What stands against lining a route; a switch that only repeats the rest is left out. */
  List<Explanation> cannotBeLined(RouteCircuit route, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(reasoning.startTime(nowNs));
    reasons.addAll(reasoning.cancelTime(route, nowNs));
    List<Explanation> demands = reasoning.of(route.available);
    demands.stream()
        .filter(demand -> demand.because().isEmpty() || !demands.containsAll(demand.because()))
        .forEach(reasons::add);
    return reasons;
  }

  /** What stands against calling a train on. */
  List<Explanation> cannotCallOn(RouteCircuit route, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(reasoning.startTime(nowNs));
    reasons.addAll(reasoning.cancelTime(route, nowNs));
    reasons.addAll(reasoning.of(route.callOn.orElseThrow().available));
    return reasons;
  }

  /** What keeps a cancelled signal's routes locked for now. */
  List<Explanation> stillLocked(SignalCircuit signal, long nowNs) {
    return circuits.routesFrom(signal.signal.id()).stream()
        .filter(route -> is(route.locked))
        .flatMap(route -> reasoning.cancelTime(route, nowNs).stream())
        .toList();
  }

  private boolean is(Variable variable) {
    return reasoning.is(variable);
  }
}
