package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.sentence.Command;
import tappet.source.NearNames;

/**
 * Turns what a person asks into the one pulse that a step may carry, and tells what came of it.
 * Which of several routes between two signals is tried is decided here; whether it is granted,
 * never.
 */
final class Requests {

  private final Circuits circuits;
  private final Stepper stepper;
  private final Why why;
  private final StandingRequests standing;
  private final OpeningRequests openings;
  private final Releases releases;

  Requests(
      Circuits circuits,
      Stepper stepper,
      ProtectionRegister register,
      Why why,
      StandingRequests standing) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.why = why;
    this.standing = standing;
    this.openings = new OpeningRequests(circuits, stepper, why);
    this.releases = new Releases(circuits, stepper, register, why);
  }

  /** A request that has been laid on; its answer is due when the step has settled. */
  @FunctionalInterface
  interface Pending {
    Answer answer(long nowNs);
  }

  Pending lay(Command command, long nowNs) {
    if (command instanceof Command.OfRoute route) {
      return ofRoute(route, nowNs);
    }
    if (command instanceof Command.LineRoute line) {
      return lineRoute(line, nowNs);
    }
    if (command instanceof Command.SetTraffic set) {
      return setTraffic(set);
    }
    if (command instanceof Command.Unfleet unfleet) {
      return forget(unfleet.signal(), route -> route.fleeted, signal -> signal.unfleeted);
    }
    if (command instanceof Command.Unstack unstack) {
      return forget(unstack.signal(), route -> route.stacked, signal -> signal.unstacked);
    }
    if (command instanceof Command.Cancel cancel) {
      return cancel(cancel);
    }
    if (command instanceof Command.Throw move) {
      return move(move, nowNs);
    }
    if (command instanceof Command.Lock lock) {
      return openings.lock(lock.opening(), nowNs);
    }
    if (command instanceof Command.Unlock unlock) {
      return openings.unlock(unlock.opening(), nowNs);
    }
    if (command instanceof Command.Release release) {
      return releases.release(release, nowNs);
    }
    if (command instanceof Command.Secure secure) {
      return releases.secure(secure, nowNs);
    }
    return settled(refused("the interlocking works no trains", List.of()));
  }

  private Pending ofRoute(Command.OfRoute asked, long nowNs) {
    if (!circuits.signals.containsKey(asked.from())) {
      return settled(noSuch("signal", asked.from(), circuits.signals.keySet()));
    }
    List<RouteCircuit> ways =
        circuits.routesFrom(asked.from()).stream()
            .filter(route -> route.row.to().equals(asked.to()))
            .toList();
    if (ways.isEmpty()) {
      return settled(noRoute(asked));
    }
    return asked instanceof Command.CallOn ? callOn(ways, nowNs) : firstOf(ways, asked, nowNs);
  }

  /** The way that would be tried first, or of several the first that is free. */
  Optional<Candidate> candidate(String from, String to, long nowNs) {
    List<RouteCircuit> ways =
        circuits.routesFrom(from).stream().filter(route -> route.row.to().equals(to)).toList();
    return ways.stream()
        .filter(way -> is(way.available) || is(way.call.canClearAgain))
        .findFirst()
        .map(free -> new Candidate(free.row, true, Explanation.fact("it can be lined")))
        .or(() -> ways.stream().findFirst().map(way -> closed(way, nowNs)));
  }

  private Candidate closed(RouteCircuit way, long nowNs) {
    return is(way.signalCalled)
        ? new Candidate(way.row, false, Explanation.fact("it is lined already"))
        : new Candidate(
            way.row,
            false,
            new Explanation("it cannot be lined", why.signals.cannotBeLined(way, nowNs)));
  }

  private Pending lineRoute(Command.LineRoute line, long nowNs) {
    RouteCircuit way = circuits.routes.get(line.route());
    if (way == null) {
      return settled(noSuch("route that is lined", line.route(), circuits.routes.keySet()));
    }
    return firstOf(List.of(way), line, nowNs);
  }

  /** Tries the ways in the order of the table. */
  private Pending firstOf(List<RouteCircuit> ways, Command asked, long nowNs) {
    for (RouteCircuit way : ways) {
      if (is(way.available) || is(way.call.canClearAgain)) {
        stepper.pulse(way.asked);
        return fleet(asked, way, Naming.route(way.row) + " is lined");
      }
    }
    return notAvailable(asked, ways, nowNs);
  }

  private Answer noRoute(Command.OfRoute asked) {
    if (!circuits.automaticsFrom(asked.from()).isEmpty()) {
      String automatic = Naming.signal(circuits.signal(asked.from()).signal) + " is automatic";
      return refused(
          automatic, List.of(Explanation.fact("it clears by itself when its traffic is set")));
    }
    List<String> ends =
        circuits.routesFrom(asked.from()).stream().map(route -> route.row.to()).distinct().toList();
    String wrong = "no route leads from " + asked.from() + " to " + asked.to();
    String meant = NearNames.meant(asked.to(), ends, "no route starts there");
    return refused(wrong, List.of(Explanation.fact(meant)));
  }

  /** Fleets the way where that is what was asked. */
  private Pending fleet(Command asked, RouteCircuit way, String done) {
    boolean fleet = asked instanceof Command.Fleet;
    if (fleet) {
      stepper.pulse(way.waiting.fleetAsked);
    }
    return now -> granted(fleet ? done + " and fleeted" : done, why.signals.waitingFor(way));
  }

  private Pending notAvailable(Command asked, List<RouteCircuit> ways, long nowNs) {
    for (RouteCircuit way : ways) {
      if (is(way.signalCalled)) {
        return fleet(asked, way, Naming.route(way.row) + " is lined already");
      }
    }
    List<Explanation> reasons = new ArrayList<>();
    ways.forEach(way -> reasons.addAll(why.signals.cannotBeLined(way, nowNs)));
    if (asked instanceof Command.Stack) {
      return stack(ways.get(0), reasons);
    }
    return settled(refused(Naming.route(ways.get(0).row) + " cannot be lined", reasons));
  }

  private Pending stack(RouteCircuit way, List<Explanation> reasons) {
    String name = Naming.route(way.row);
    if (standing.size() >= StandingRequests.MOST) {
      return settled(
          refused(
              name + " cannot be stacked",
              List.of(
                  Explanation.fact(
                      StandingRequests.MOST + " routes are fleeted or stacked already"))));
    }
    stepper.pulse(way.waiting.stackAsked);
    return now ->
        is(way.stacked)
            ? granted(name + " is stacked and waits", reasons)
            : refused(name + " cannot be stacked", reasons);
  }

  private Pending callOn(List<RouteCircuit> ways, long nowNs) {
    List<Explanation> reasons = new ArrayList<>();
    for (RouteCircuit way : ways) {
      if (way.callOn.isEmpty()) {
        String fact = "the rules do not let " + Naming.route(way.row) + " call a train on";
        reasons.add(Explanation.fact(fact));
      } else if (is(way.callOn.get().available)) {
        stepper.pulse(way.callOn.get().asked);
        return now ->
            granted(Naming.route(way.row) + " calls a train on", why.signals.waitingFor(way));
      } else {
        reasons.addAll(why.signals.cannotCallOn(way, nowNs));
      }
    }
    return settled(refused(Naming.route(ways.get(0).row) + " cannot be called on", reasons));
  }

  private Pending setTraffic(Command.SetTraffic set) {
    TrafficCircuit line = circuits.lines.get(set.line());
    if (line == null) {
      return settled(noSuch("line", set.line(), circuits.lines.keySet()));
    }
    Variable can = line.canBeSaid(set.heading());
    if (!is(can)) {
      return settled(refused(can.words().whenFalse(), why.reasoning.of(can)));
    }
    stepper.pulse(line.asked(set.heading()));
    return now -> granted(line.lies(set.heading()).words().whenTrue(), List.of());
  }

  private Pending forget(
      String id, Function<RouteCircuit, Variable> what, Function<SignalCircuit, Variable> pulse) {
    SignalCircuit signal = circuits.signals.get(id);
    if (signal == null) {
      return settled(noSuch("signal", id, circuits.signals.keySet()));
    }
    List<RouteCircuit> routes = circuits.routesFrom(id);
    List<Explanation> standing =
        routes.stream()
            .map(what)
            .filter(this::is)
            .map(variable -> Explanation.fact(variable.words().whenTrue()))
            .toList();
    if (standing.isEmpty()) {
      return settled(
          refused(
              "there is nothing to forget",
              routes.stream()
                  .map(what)
                  .map(variable -> Explanation.fact(variable.words().whenFalse()))
                  .toList()));
    }
    stepper.pulse(pulse.apply(signal));
    return now -> granted("forgotten", standing);
  }

  private Pending cancel(Command.Cancel cancel) {
    SignalCircuit signal = circuits.signals.get(cancel.signal());
    if (signal == null) {
      return settled(noSuch("signal", cancel.signal(), circuits.signals.keySet()));
    }
    if (!is(signal.lined) && circuits.routesFrom(cancel.signal()).stream().noneMatch(this::waits)) {
      return settled(refused(signal.lined.words().whenFalse(), List.of()));
    }
    stepper.pulse(signal.cancelled);
    return now ->
        granted(
            Naming.signal(signal.signal) + " is put back to stop",
            why.signals.stillLocked(signal, now));
  }

  private Pending move(Command.Throw move, long nowNs) {
    SwitchCircuit toe = circuits.switches.get(move.switchId());
    if (toe == null) {
      return settled(noSuch("switch", move.switchId(), circuits.switches.keySet()));
    }
    Variable blocked = toe.blocked(move.position());
    Optional<String> another = ThrownBy.another(toe.toe);
    if (another.isPresent()) {
      String what = Naming.toe(toe.toe) + " is not thrown by the dispatcher";
      return settled(refused(what, List.of(Explanation.fact(another.get()))));
    }
    if (is(blocked) || !mayBeSent(toe)) {
      return settled(
          refused(blocked.words().whenTrue(), why.track.isBlocked(toe, move.position(), nowNs)));
    }
    stepper.pulse(toe.motor.orElseThrow().asked(move.position()));
    return now -> granted(Naming.toe(toe.toe) + " is sent " + move.position().word(), List.of());
  }

  private boolean waits(RouteCircuit route) {
    return is(route.waits);
  }

  /**
   * Nothing may stand on any end of it, no emergency stands, and people do not have it as it lies.
   */
  private boolean mayBeSent(SwitchCircuit toe) {
    return is(toe.motor.orElseThrow().movable)
        && circuits.ends(toe.toe).stream().noneMatch(end -> is(circuits.protections.of(end).stays));
  }

  static Answer noSuch(String kind, String name, Iterable<String> names) {
    List<String> known = new ArrayList<>();
    names.forEach(known::add);
    String meant = NearNames.meant(name, known, "the layout has none");
    return refused("there is no " + kind + " '" + name + "'", List.of(Explanation.fact(meant)));
  }

  /** An answer for those who watch: what came of it and what stood against it. */
  static String inOneLine(Answer answer) {
    String clause = (answer.granted() ? "" : "refused, ") + answer.explanation().clause();
    List<String> reasons =
        answer.explanation().because().stream().map(Explanation::clause).toList();
    return reasons.isEmpty() ? clause : clause + ": " + String.join(", ", reasons);
  }

  private boolean is(Variable variable) {
    return stepper.value(variable);
  }

  static Pending settled(Answer answer) {
    return nowNs -> answer;
  }

  static Answer granted(String what, List<Explanation> because) {
    return new Answer(true, new Explanation(what, because));
  }

  static Answer refused(String what, List<Explanation> because) {
    return new Answer(false, new Explanation(what, because));
  }
}
