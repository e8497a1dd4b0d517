package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Position;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;
import tappet.rules.TrafficLine;
import tappet.sentence.Command.Heading;

/**
 * Traffic locking of a line between control points (49 CFR 236.405, 236.769): the way that trains
 * run over it is set by lining a route into it, and stays while anything on the line may be
 * occupied or any route into it is locked. Automatic signals clear only the way that is set, so
 * those against it stand at Stop before a train has even entered (49 CFR 236.204).
 */
final class TrafficCircuit {

  final TrafficLine line;

  /** By heading: trains may run that way. */
  private final Map<Heading, Variable> lies = new EnumMap<>(Heading.class);

  private final Map<Heading, Variable> stored = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> asked = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> canBeSaid = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> set = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> closed = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> mayCome = new EnumMap<>(Heading.class);
  private final Map<Heading, Variable> calls = new EnumMap<>(Heading.class);

  /** Nothing keeps the way that is set. */
  final Variable free;

  private final Variable vacant;
  private final Variable known;
  private final Variable locked;

  TrafficCircuit(TrafficLine line, NetworkBuilder network) {
    this.line = line;
    String name = "traffic on " + line.id();
    String role = "traffic " + line.id() + ": ";
    vacant = network.equation(role + "line vacant", Words.through());
    known = network.equation(role + "line known", Words.through());
    locked = network.equation(role + "locks hold", Words.through());
    free =
        network.equation(
            role + "free", Words.fact("nothing keeps " + name, "something keeps " + name));
    for (Heading heading : Heading.values()) {
      String way = heading.word();
      Words settled = Words.fact(name + " is set " + way, name + " is not set " + way);
      stored.put(heading, network.latch(role + "stored " + way, Words.through()));
      lies.put(heading, network.equation(role + way, settled, is(stored.get(heading))));
      asked.put(heading, network.pulse(role + "asked " + way, Words.through()));
      canBeSaid.put(
          heading,
          network.equation(
              role + "can be said " + way,
              Words.because(name + " can be set " + way, name + " cannot be set " + way)));
      set.put(heading, network.equation(role + "set " + way, Words.through()));
      closed.put(
          heading,
          network.equation(
              role + "closed " + way,
              Words.because(name + " cannot be set " + way, name + " can be set " + way)));
      mayCome.put(
          heading,
          network.equation(
              role + "may come " + way,
              Words.because(
                  "trains may come " + way + " over " + line.id(),
                  "no train comes " + way + " over " + line.id())));
      calls.put(
          heading,
          network.latch(
              role + "calls signals " + way,
              Words.fact(
                  "its signal follows " + name,
                  "its signal has not been called since "
                      + name
                      + " was set, or was interrupted")));
    }
  }

  /** Trains may run that way. */
  Variable lies(Heading heading) {
    return lies.get(heading);
  }

  /**
   * No route may be lined into the line that way: it is set against it, or not empty and locked.
   */
  Variable closed(Heading heading) {
    return closed.get(heading);
  }

  /** Trains may run that way now: it is set so, or not empty and set neither way. */
  Variable mayCome(Heading heading) {
    return mayCome.get(heading);
  }

  /** The pulse by which a person says which way trains run on an occupied line. */
  Variable asked(Heading heading) {
    return asked.get(heading);
  }

  /** Whether a person may say so. */
  Variable canBeSaid(Heading heading) {
    return canBeSaid.get(heading);
  }

  /** Whether the automatic signals that way are called. */
  Variable calls(Heading heading) {
    return calls.get(heading);
  }

  /** That no way is set: then nothing runs over the line, and its switches may move. */
  List<Expression> idle() {
    return lies.values().stream().<Expression>map(Expression::not).toList();
  }

  /** A way is set, and a train is on the line or may come: it may accept an automatic signal. */
  Expression trainMayRun(Circuits circuits) {
    List<Expression> trains = new ArrayList<>();
    trains.add(not(vacant));
    locksOfRoutes(circuits).forEach(locked -> trains.add(is(locked)));
    return all(any(trains), not(all(idle())));
  }

  private List<Variable> locksOfRoutes(Circuits circuits) {
    List<Variable> locks = new ArrayList<>();
    for (Heading heading : Heading.values()) {
      routes(heading, circuits).forEach(route -> locks.add(route.locked));
    }
    return locks;
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    List<Expression> sections = new ArrayList<>();
    List<Expression> reports = new ArrayList<>();
    List<Expression> locks = new ArrayList<>();
    for (String section : line.sections()) {
      sections.add(is(circuits.section(section).vacant));
      reports.add(is(circuits.section(section).known));
      circuits.locksIn(section).forEach(lock -> locks.add(is(lock.holds)));
    }
    network.define(vacant, all(sections));
    network.define(known, all(reports));
    network.define(locked, all(locks));
    network.define(free, line.bothWays() ? all(whatFreesIt(circuits)) : never());
    for (Heading heading : Heading.values()) {
      define(heading, circuits);
    }
  }

  private void define(Heading heading, Circuits circuits) {
    NetworkBuilder network = circuits.network;
    Heading against = heading.opposite();
    Expression granted =
        any(routes(heading, circuits).stream().map(RouteCircuit::isGranted).toList());

    network.define(
        closed.get(heading),
        all(not(stored.get(heading)), any(is(lies(against)), not(vacant), not(locked))));
    network.define(
        mayCome.get(heading), any(is(lies(heading)), all(not(lies(against)), not(vacant))));
    network.define(canBeSaid.get(heading), all(whatPersonMaySay(heading, circuits)));
    network.define(set.get(heading), any(granted, all(is(asked(heading)), is(canBeSaid(heading)))));
    network.define(stored.get(heading), is(set.get(heading)), all(not(set.get(heading)), is(free)));
    List<Expression> interruptions = new ArrayList<>();
    interruptions.add(all(not(stored.get(heading)), not(set.get(heading))));
    circuits.emergencies.values().forEach(kind -> interruptions.add(is(kind.stands)));
    interruptions.add(not(known));
    network.define(calls.get(heading), is(set.get(heading)), any(interruptions));
  }

  /** A line that trains run over one way only is never freed: it stays set. */
  private List<Expression> whatFreesIt(Circuits circuits) {
    List<Expression> free = new ArrayList<>();
    free.add(is(vacant));
    locksOfRoutes(circuits).forEach(locked -> free.add(not(locked)));
    free.addAll(handThrownSwitchesLieForTheLine(circuits));
    return free;
  }

  /**
   * A train that comes out of a spur by hand runs the way that is set, and may not have come yet.
   */
  private List<Expression> handThrownSwitchesLieForTheLine(Circuits circuits) {
    Map<String, Set<Position>> wanted = new LinkedHashMap<>();
    for (RouteRow row : circuits.table.routes().values()) {
      if (line.headingOf(row).isPresent()) {
        row.switches()
            .forEach((id, at) -> wanted.computeIfAbsent(id, any -> new LinkedHashSet<>()).add(at));
      }
    }
    return wanted.entrySet().stream()
        .filter(entry -> entry.getValue().size() == 1)
        .map(entry -> circuits.toe(entry.getKey()))
        .filter(toe -> toe.motor.isEmpty() && line.sections().contains(toe.toe.section()))
        .<Expression>map(toe -> is(toe.inPlace(wanted.get(toe.toe.id()).iterator().next())))
        .toList();
  }

  private List<Expression> whatPersonMaySay(Heading heading, Circuits circuits) {
    List<Expression> needs = new ArrayList<>(circuits.noEmergency());
    needs.add(is(circuits.started));
    needs.add(not(lies(heading.opposite())));
    if (line.bothWays()) {
      needs.add(not(vacant));
    }
    return needs;
  }

  private List<RouteCircuit> routes(Heading heading, Circuits circuits) {
    return line.sections().stream()
        .flatMap(section -> circuits.routesOver(section).stream())
        .distinct()
        .filter(route -> line.headingOf(route.row).equals(Optional.of(heading)))
        .toList();
  }
}
