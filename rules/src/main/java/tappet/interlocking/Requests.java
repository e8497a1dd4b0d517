package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
  private final Releases releases;

  Requests(Circuits circuits, Stepper stepper, Why why) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.why = why;
    this.releases = new Releases(circuits, stepper, why);
  }

  /** A request that has been laid on; its answer is due when the step has settled. */
  @FunctionalInterface
  interface Pending {
    Answer answer(long nowNs);
  }

  Pending lay(Command command, long nowNs) {
    if (command instanceof Command.Line line) {
      return line(line, nowNs);
    }
    if (command instanceof Command.Cancel cancel) {
      return cancel(cancel);
    }
    if (command instanceof Command.Throw move) {
      return move(move, nowNs);
    }
    if (command instanceof Command.Release release) {
      return releases.release(release, nowNs);
    }
    if (command instanceof Command.Secure secure) {
      return releases.secure(secure, nowNs);
    }
    return settled(refused("the interlocking works no trains", List.of()));
  }

  private Pending line(Command.Line line, long nowNs) {
    if (!circuits.signals.containsKey(line.from())) {
      return settled(noSuch("signal", line.from(), circuits.signals.keySet()));
    }
    List<RouteCircuit> ways =
        circuits.routesFrom(line.from()).stream()
            .filter(route -> route.row.to().equals(line.to()))
            .toList();
    if (ways.isEmpty()) {
      return settled(noRoute(line));
    }
    for (RouteCircuit way : ways) {
      if (is(way.available) || is(way.canClearAgain)) {
        stepper.pulse(way.asked);
        return now -> granted(Naming.route(way.row) + " is lined", why.waitingFor(way));
      }
    }
    return settled(notAvailable(ways, nowNs));
  }

  private Answer noRoute(Command.Line line) {
    List<String> ends =
        circuits.routesFrom(line.from()).stream().map(route -> route.row.to()).distinct().toList();
    String wrong = "no route leads from " + line.from() + " to " + line.to();
    String meant = NearNames.meant(line.to(), ends, "no route starts there");
    return refused(wrong, List.of(Explanation.fact(meant)));
  }

  private Answer notAvailable(List<RouteCircuit> ways, long nowNs) {
    for (RouteCircuit way : ways) {
      if (is(way.signalCalled)) {
        return granted(Naming.route(way.row) + " is lined already", why.waitingFor(way));
      }
    }
    List<Explanation> reasons = new ArrayList<>();
    ways.forEach(way -> reasons.addAll(why.cannotBeLined(way, nowNs)));
    return refused(Naming.route(ways.get(0).row) + " cannot be lined", reasons);
  }

  private Pending cancel(Command.Cancel cancel) {
    SignalCircuit signal = circuits.signals.get(cancel.signal());
    if (signal == null) {
      return settled(noSuch("signal", cancel.signal(), circuits.signals.keySet()));
    }
    if (!is(signal.lined)) {
      return settled(refused(signal.lined.words().whenFalse(), List.of()));
    }
    stepper.pulse(signal.cancelled);
    return now ->
        granted(
            Naming.signal(signal.signal) + " is put back to stop", why.stillLocked(signal, now));
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
    MotorCircuit motor = toe.motor.orElseThrow();
    if (is(blocked) || !is(motor.movable)) {
      return settled(refused(blocked.words().whenTrue(), why.isLocked(toe, nowNs)));
    }
    stepper.pulse(motor.asked(move.position()));
    return now -> granted(Naming.toe(toe.toe) + " is sent " + move.position().word(), List.of());
  }

  private static Answer noSuch(String kind, String name, Iterable<String> names) {
    List<String> known = new ArrayList<>();
    names.forEach(known::add);
    String meant = NearNames.meant(name, known, "the layout has none");
    return refused("there is no " + kind + " '" + name + "'", List.of(Explanation.fact(meant)));
  }

  private boolean is(Variable variable) {
    return stepper.value(variable);
  }

  private static Pending settled(Answer answer) {
    return nowNs -> answer;
  }

  private static Answer granted(String what, List<Explanation> because) {
    return new Answer(true, new Explanation(what, because));
  }

  private static Answer refused(String what, List<Explanation> because) {
    return new Answer(false, new Explanation(what, because));
  }
}
