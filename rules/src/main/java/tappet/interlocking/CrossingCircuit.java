package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import tappet.layout.GradeCrossing;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.CrossingRow;
import tappet.rules.CrossingRow.Approach;

/**
 * A grade crossing. It warns while anything may be on the road or come to it, and rests only where
 * everything says that nothing does: a section that is not known to be vacant makes it warn.
 *
 * <p>A train that has run over the road stops the warning behind it, though it still stands in an
 * approach on the far side: the directional stick (Transport Canada, Grade Crossings Standards,
 * 16.4). It is set by a train that came to the road from another side and has its front in the
 * section behind it, and counts only while no signal may send a train back over the road from
 * there.
 */
final class CrossingCircuit implements LinesideCircuit {

  final GradeCrossing crossing;

  /** The road is to be warned. */
  final Variable warns;

  /** It has warned so long that a person must look. */
  final Variable warnsTooLong;

  private final CrossingRow row;

  /** The road has been warned long enough for a train to start. */
  private final Variable warned;

  /** A reason to warn that no time ends. */
  private final Variable mustWarn;

  private final Map<Approach, Variable> warnsFor = new LinkedHashMap<>();

  /** By approach: a signal may send a train over the road from it. */
  private final Map<Approach, Variable> leadsFrom = new LinkedHashMap<>();

  /** By approach: a train on the road came from another side and may leave by this one. */
  private final Map<Approach, Variable> crossesTo = new LinkedHashMap<>();

  /** By approach: the directional stick. */
  private final Map<Approach, Variable> leavesBy = new LinkedHashMap<>();

  /** A train has stood in a section, before a signal, for the time-out. */
  private final List<Variable> stoodLong = new ArrayList<>();

  CrossingCircuit(GradeCrossing crossing, CrossingRow row, NetworkBuilder network) {
    this.crossing = crossing;
    this.row = row;
    String name = Naming.device(crossing);
    String role = crossing.key() + ": ";
    warns = network.equation(role + "warns", Words.fact(name + " warns", name + " rests"));
    warned =
        network.timer(
            role + "warning time",
            Words.fact(
                name + " has warned for " + seconds(row.warning().toMillis()),
                name + " has not warned for " + seconds(row.warning().toMillis()) + " yet"),
            warns,
            row.warning());
    mustWarn = network.equation(role + "must warn", Words.through());
    warnsTooLong =
        network.timer(
            role + "time-out",
            Words.fact(
                name + " has warned for more than " + seconds(row.timeOut().toMillis()),
                name + " does not warn too long"),
            mustWarn,
            row.timeOut());
    for (Approach approach : row.approaches()) {
      String near = approach.nearest();
      warnsFor.put(approach, network.equation(role + "warns for " + near, Words.through()));
      leadsFrom.put(approach, network.equation(role + "leads from " + near, Words.through()));
      crossesTo.put(approach, network.latch(role + "crosses to " + near, Words.through()));
      leavesBy.put(
          approach,
          network.latch(
              role + "leaves by " + near,
              Words.last(
                  "a train leaves the road by section " + near,
                  "no train leaves the road by section " + near)));
    }
  }

  private static String seconds(long millis) {
    return millis % 1000 == 0 ? millis / 1000 + " s" : millis / 1000.0 + " s";
  }

  @Override
  public void define(Circuits circuits) {
    List<Expression> reasons = new ArrayList<>();
    List<Expression> lasting = new ArrayList<>();
    reasons.add(not(island(circuits).vacant));
    lasting.add(not(island(circuits).vacant));
    for (Approach approach : row.approaches()) {
      circuits.network.define(leadsFrom.get(approach), anyRouteLeads(approach, circuits));
      defineStick(approach, circuits);
      defineWarning(approach, lasting, circuits);
      reasons.add(is(warnsFor.get(approach)));
    }
    circuits.network.define(warns, any(reasons));
    circuits.network.define(mustWarn, any(lasting));
  }

  private SectionCircuit island(Circuits circuits) {
    return circuits.section(crossing.island());
  }

  private void defineStick(Approach approach, Circuits circuits) {
    SectionCircuit near = circuits.section(approach.nearest());
    Variable crosses = crossesTo.get(approach);
    circuits.network.define(
        crosses,
        all(
            island(circuits).isOccupied(),
            is(near.vacant),
            trainComesFromElsewhere(approach, circuits),
            nothingCrossesFromHere(approach)),
        is(island(circuits).vacant));
    circuits.network.define(
        leavesBy.get(approach),
        all(
            is(crosses),
            island(circuits).isOccupied(),
            near.isOccupied(),
            vacant(approach.farther(), circuits)),
        any(
            vacant(approach.sections(), circuits),
            anythingUnknown(approach, circuits),
            is(leadsFrom.get(approach))));
  }

  private static Expression anyRouteLeads(Approach approach, Circuits circuits) {
    return any(approach.over().stream().map(route -> leads(route, circuits)).toList());
  }

  /** A train on an automatic signal may still come after the signal is no longer called. */
  private static Expression leads(String route, Circuits circuits) {
    AutomaticCircuit automatic = circuits.automatics.get(route);
    if (automatic == null) {
      return is(circuits.route(route).locked);
    }
    List<Expression> traffic = new ArrayList<>();
    circuits.linesOf(automatic.row).forEach((line, heading) -> traffic.add(is(line.lies(heading))));
    return all(traffic);
  }

  /** A train that leaves by another side comes from nowhere. */
  private Expression trainComesFromElsewhere(Approach approach, Circuits circuits) {
    return any(
        others(approach).stream()
            .<Expression>map(
                other ->
                    all(circuits.section(other.nearest()).isOccupied(), not(leavesBy.get(other))))
            .toList());
  }

  /** While a train crosses to one side, what follows it is not one that comes from there. */
  private Expression nothingCrossesFromHere(Approach approach) {
    return all(
        others(approach).stream().<Expression>map(other -> not(crossesTo.get(other))).toList());
  }

  private List<Approach> others(Approach approach) {
    return row.approaches().stream().filter(other -> !other.equals(approach)).toList();
  }

  private void defineWarning(Approach approach, List<Expression> lasting, Circuits circuits) {
    Expression mayCome = any(not(leavesBy.get(approach)), is(leadsFrom.get(approach)));
    List<Expression> covered = new ArrayList<>();
    for (String id : approach.sections()) {
      SectionCircuit section = circuits.section(id);
      Expression covers = not(section.vacant);
      Expression lasts = covers;
      if (approach.standing().contains(id)) {
        Expression stands = all(section.isOccupied(), not(leadsFrom.get(approach)));
        covers = all(covers, not(stoodLong(id, approach, stands, circuits.network)));
        lasts = all(lasts, not(stands));
      }
      covered.add(covers);
      lasting.add(all(mayCome, lasts));
    }
    circuits.network.define(warnsFor.get(approach), all(mayCome, any(covered)));
  }

  /**
   * A train stands, or may yet stand, before a signal at Stop, and has done so for long. No time
   * ends the warning for what is unknown, for a train beyond the signal, or for one whose route is
   * lined.
   */
  private Variable stoodLong(
      String id, Approach approach, Expression stands, NetworkBuilder network) {
    String role = crossing.key() + ": train in " + id + " toward " + approach.nearest();
    String time = seconds(row.timeOut().toMillis());
    Variable standing = network.equation(role + " may stand", Words.through(), stands);
    Variable stood =
        network.timer(
            role,
            Words.last(
                "the train in section " + id + " has stood there for " + time,
                "no train has stood in section " + id + " for " + time),
            standing,
            row.timeOut());
    stoodLong.add(stood);
    return stood;
  }

  private static Expression vacant(List<String> sections, Circuits circuits) {
    return all(sections.stream().<Expression>map(id -> is(circuits.section(id).vacant)).toList());
  }

  private static Expression anythingUnknown(Approach approach, Circuits circuits) {
    return any(
        approach.sections().stream()
            .<Expression>map(id -> not(circuits.section(id).known))
            .toList());
  }

  /**
   * What a route's signal waits for: the road has been warned before a train that has stood in the
   * approach starts. Once it has been shown the signal is not taken from a train for that.
   */
  List<Expression> proofsOf(RouteCircuit route, Circuits circuits) {
    return row.approaches().stream()
        .filter(approach -> approach.over().contains(route.row.id()))
        .map(approach -> beforeSignal(route, approach))
        .filter(sections -> !sections.isEmpty())
        .<Expression>map(
            sections -> any(is(warned), vacant(sections, circuits), is(route.call.shown)))
        .toList();
  }

  /** The sections of an approach in which a train stands before the signal of a route. */
  private static List<String> beforeSignal(RouteCircuit route, Approach approach) {
    return approach.sections().stream()
        .filter(section -> !route.row.path().contains(section))
        .toList();
  }

  @Override
  public Explanation explain(Stepper stepper, Explainer explainer) {
    List<Explanation> reasons = new ArrayList<>();
    if (stepper.value(warns)) {
      reasons.addAll(explainer.whatKeeps(warns));
    } else {
      leavesBy.values().forEach(stick -> noteIfTrue(stick, stepper, reasons));
      stoodLong.forEach(stood -> noteIfTrue(stood, stepper, reasons));
    }
    noteIfTrue(warnsTooLong, stepper, reasons);
    return new Explanation(warns.words().when(stepper.value(warns)), reasons);
  }

  private static void noteIfTrue(Variable variable, Stepper stepper, List<Explanation> reasons) {
    if (stepper.value(variable)) {
      reasons.add(Explanation.fact(variable.words().whenTrue()));
    }
  }
}
