package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

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
 */
final class AutomaticCircuit implements Clearing {

  final RouteRow row;
  final Variable called;
  final Variable proved;
  final Variable proceeds;

  AutomaticCircuit(RouteRow row, NetworkBuilder network) {
    this.row = row;
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";
    called =
        network.equation(
            role + "called",
            Words.joining(name + " follows its traffic", name + " waits for its traffic"));
    proved = network.equation(role + "proved", Words.through());
    proceeds = network.equation(role + "proceeds", Words.through());
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
  }
}
