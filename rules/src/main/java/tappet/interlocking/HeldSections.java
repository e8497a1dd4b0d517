package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;

/**
 * The sections of a route: all held from its grant, and let go one by one behind its train
 * (sectional release, 49 CFR 236.767).
 */
final class HeldSections {

  /** In order of travel. */
  private final List<String> path;

  private final Map<String, Variable> holds = new LinkedHashMap<>();
  private final Map<String, Variable> entered = new LinkedHashMap<>();

  HeldSections(RouteRow row, NetworkBuilder network) {
    path = row.path();
    String name = Naming.route(row);
    String role = "route " + row.id() + ": ";
    for (String section : path) {
      String held = "section " + section + " is held by " + name;
      String notHeld = "section " + section + " is no longer held by " + name;
      holds.put(section, network.latch(role + "holds " + section, Words.fact(held, notHeld)));
      entered.put(
          section,
          network.latch(
              role + "train in " + section,
              Words.fact(
                  "a train on " + name + " has entered section " + section,
                  "no train on " + name + " has entered section " + section)));
    }
  }

  /** The hold on one section. */
  Variable hold(String section) {
    return holds.get(section);
  }

  /** The holds on all sections, in order of travel. */
  Collection<Variable> holds() {
    return holds.values();
  }

  /** A train has entered one section. */
  Variable entered(String section) {
    return entered.get(section);
  }

  /** A train has entered the first section: it has passed the signal. */
  Variable accepted() {
    return entered.get(path.get(0));
  }

  /** That none is held any more. */
  Expression areRunThrough() {
    return all(holds.values().stream().<Expression>map(Expression::not).toList());
  }

  void define(RouteCircuit route, Circuits circuits) {
    for (int index = 0; index < path.size(); index++) {
      String section = path.get(index);
      circuits.network.define(
          hold(section),
          route.isGranted(),
          any(route.isGivenUp(), all(trainHasPassed(index, circuits))));
      circuits.network.define(
          entered(section),
          all(trainCanHaveCome(index), circuits.section(section).isOccupied()),
          not(route.locked));
    }
  }

  /**
   * The train has been in a section and in the next one, has left it, and the one before is free.
   * The last one is let go when the train stands in it alone: from then on its occupancy protects
   * it.
   */
  private List<Expression> trainHasPassed(int index, Circuits circuits) {
    String section = path.get(index);
    boolean last = index == path.size() - 1;
    List<Expression> passed = new ArrayList<>();
    passed.add(is(entered(last ? section : path.get(index + 1))));
    if (!last) {
      passed.add(is(circuits.section(section).vacant));
    }
    if (index > 0) {
      passed.add(not(hold(path.get(index - 1))));
    }
    return passed;
  }

  private Expression trainCanHaveCome(int index) {
    return is(index == 0 ? hold(path.get(0)) : entered(path.get(index - 1)));
  }
}
