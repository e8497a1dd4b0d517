package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
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

  Requests(Circuits circuits, Stepper stepper, Why why) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.why = why;
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
    if (!mayBeSent(toe, blocked)) {
      return settled(refused(blocked.words().whenTrue(), why.isLocked(toe, nowNs)));
    }
    stepper.pulse(toe.asked(move.position()));
    return now -> granted(Naming.toe(toe.toe) + " is sent " + move.position().word(), List.of());
  }

  private boolean mayBeSent(SwitchCircuit toe, Variable blocked) {
    boolean kept = is(circuits.protections.of(toe).stays);
    return !is(blocked) && !kept && mayMove(toe, circuits, stepper);
  }

  /** Nothing may stand on it, and no emergency stands. */
  static boolean mayMove(SwitchCircuit toe, Circuits circuits, Stepper stepper) {
    boolean emergency =
        circuits.emergencies.values().stream().anyMatch(kind -> stepper.value(kind.stands));
    return !emergency && stepper.value(circuits.section(toe.toe.section()).vacant);
  }

  static Answer noSuch(String kind, String name, Iterable<String> names) {
    List<String> known = new ArrayList<>();
    names.forEach(known::add);
    String meant = NearNames.meant(name, known, "the layout has none");
    return refused("there is no " + kind + " '" + name + "'", List.of(Explanation.fact(meant)));
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
