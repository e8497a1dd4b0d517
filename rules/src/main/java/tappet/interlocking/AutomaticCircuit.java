package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * The way beyond an automatic signal: nobody lines it. Its signal is called by the traffic of its
 * line and clears whenever, and only while, everything is proved (49 CFR 236.205). What a route
 * locks is locked here by the traffic, from before the first train enters until the last has left;
 * a route that keeps clear what lies on the way holds the signal for as long as it is locked.
 *
 * <p>Nobody cancels it, so no release time runs. Who must know that no train comes by it any more
 * counts how long its signal has been at Stop: a train that saw it proceed has passed it by then,
 * and is found on the way beyond, or has stopped before it.
 */
final class AutomaticCircuit implements Clearing {

  final RouteRow row;
  final Variable called;
  final Variable proved;
  final Variable proceeds;

  /** A train may have seen its signal proceed, and neither passed it nor stopped before it yet. */
  final Variable seen;

  /** Its signal is at Stop and a train may have seen it proceed: its time at Stop runs. */
  final Variable fallen;

  private final Variable shown;
  private final Variable stopTimeRun;
  private final Variable idle;

  /**
   * @param stopTime how long its signal is at Stop before a train that saw it proceed has passed it
   *     or stopped, above zero
   */
  AutomaticCircuit(RouteRow row, Duration stopTime, NetworkBuilder network) {
    this.row = row;
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";
    called =
        network.equation(
            role + "called",
            Words.joining(name + " follows its traffic", name + " waits for its traffic"));
    proved = network.equation(role + "proved", Words.through());
    proceeds = network.equation(role + "proceeds", Words.through());
    Words accepted =
        Words.fact(
            "a train may have accepted the signal of " + name,
            "no train comes to the signal of " + name + " on what it has shown");
    shown = network.latch(role + "shown", accepted);
    seen = network.equation(role + "seen", accepted, any(is(proceeds), is(shown)));
    fallen = network.equation(role + "fallen", Words.through());
    stopTimeRun = network.timer(role + "time at Stop", Words.through(), fallen, stopTime);
    idle =
        network.equation(
            role + "idle", Words.last("no train comes by " + name, "trains may come by " + name));
  }

  @Override
  public RouteRow row() {
    return row;
  }

  @Override
  public Variable locked() {
    return called;
  }

  @Override
  public Variable proceeds() {
    return proceeds;
  }

  @Override
  public Optional<Variable> callingOn() {
    return Optional.empty();
  }

  /**
   * That no train comes by it into a section on its way, or where its way leads: no way is set that
   * leads there, or nobody runs on what its signal has shown, and nothing is before the section.
   */
  Expression nobodyComesInto(String section, Circuits circuits) {
    List<Expression> nobody = new ArrayList<>();
    nobody.add(not(seen));
    nobody.addAll(nothingBefore(section, circuits));
    return any(all(nobody), is(idle));
  }

  /** The same of the trains that have passed its signal already. */
  Expression nobodyRunsTo(String section, Circuits circuits) {
    return any(all(nothingBefore(section, circuits)), is(idle));
  }

  private List<Expression> nothingBefore(String section, Circuits circuits) {
    return row.path().stream()
        .takeWhile(before -> !before.equals(section))
        .<Expression>map(before -> is(circuits.section(before).vacant))
        .toList();
  }

  void define(Circuits circuits) {
    List<Expression> calls = new ArrayList<>();
    circuits.linesOf(row).forEach((line, heading) -> calls.add(is(line.calls(heading))));
    List<Expression> proceed = new ArrayList<>(List.of(is(called), is(proved)));
    circuits.linesOf(row).keySet().forEach(line -> proceed.add(not(line.free)));
    circuits.network.define(called, all(calls));
    circuits.network.define(proceeds, all(proceed));
    List<Expression> proofs = new Proof(row, circuits).proofs();
    proofs.addAll(circuits.conflicts().noneIsLockedAgainst(row));
    circuits.network.define(proved, all(proofs));
    defineTimeAtStop(circuits);
  }

  private void defineTimeAtStop(Circuits circuits) {
    Variable signalProceeds = circuits.signal(row.from()).proceeds;
    circuits.network.define(fallen, all(is(shown), not(signalProceeds)));
    circuits.network.define(shown, is(proceeds), all(not(proceeds), is(stopTimeRun)));
    List<Expression> noWaySet = new ArrayList<>();
    circuits.linesOf(row).forEach((line, heading) -> noWaySet.add(not(line.lies(heading))));
    circuits.network.define(idle, all(noWaySet));
  }
}
