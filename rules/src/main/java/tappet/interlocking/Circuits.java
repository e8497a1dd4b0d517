package tappet.interlocking;

import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.layout.TrackPlan;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.AspectReach;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.SignalNeed;

/** The circuits of a whole layout: declared first, since they read each other, and then defined. */
final class Circuits {

  final Layout layout;
  final ControlTable table;
  final NetworkBuilder network = new NetworkBuilder();
  final Map<String, SectionCircuit> sections = new LinkedHashMap<>();
  final Map<String, SwitchCircuit> switches = new LinkedHashMap<>();
  final Map<String, RouteCircuit> routes = new LinkedHashMap<>();
  final Map<String, SignalCircuit> signals = new LinkedHashMap<>();
  final ClockCircuit clock = new ClockCircuit(network);
  final Map<Emergency, EmergencyCircuit> emergencies = new EnumMap<>(Emergency.class);
  final ProtectionCircuits protections;

  /** True from the start until its time has run. */
  final Variable starting;

  /**
   * Nothing is granted before it is true: a train may still run on a signal of before the start.
   */
  final Variable started;

  private final RouteIndex index = new RouteIndex();
  private final Map<String, List<SignalNeed>> needsBySignal;
  private final Map<String, Set<RouteCircuit>> conflicts = new LinkedHashMap<>();
  private final Conditions conditions = new Conditions(this);
  private final Network built;

  /**
   * Compiles a control table.
   *
   * @throws tappet.network.CircularEquationException if the owner's needs ask signals for each
   *     other in a circle
   */
  Circuits(Layout layout, ControlTable table) {
    this.layout = layout;
    this.table = table;
    this.needsBySignal = table.needs().stream().collect(Collectors.groupingBy(SignalNeed::signal));
    this.starting = network.latchInitiallyTrue("start: time runs", Words.through());
    this.started = startTime();
    this.protections = new ProtectionCircuits(new TrackPlan(layout), network);
    declare();
    define();
    built = network.build();
  }

  Network built() {
    return built;
  }

  SectionCircuit section(String id) {
    return sections.get(id);
  }

  SwitchCircuit toe(String id) {
    return switches.get(id);
  }

  SignalCircuit signal(String id) {
    return signals.get(id);
  }

  RouteCircuit route(String id) {
    return routes.get(id);
  }

  List<RouteCircuit> routesFrom(String signal) {
    return index.from(signal);
  }

  List<RouteCircuit> routesOver(String section) {
    return index.over(section);
  }

  List<RouteCircuit> routesSetting(String switchId) {
    return index.setting(switchId);
  }

  /**
   * The routes that may not be set together with a row's besides those that share a section with
   * it, whichever of the two rows says so.
   */
  Set<RouteCircuit> conflictsOf(RouteRow row) {
    return conflicts.getOrDefault(row.id(), Set.of());
  }

  /** That no emergency stands. */
  List<Expression> noEmergency() {
    return emergencies.values().stream().map(emergency -> not(emergency.stands)).toList();
  }

  /** What the owner demands of a row: its own needs and those of its signal. */
  List<Expression> ownersNeeds(RouteRow row) {
    List<Expression> needs = new ArrayList<>();
    row.needs().ifPresent(condition -> needs.add(conditions.holds(condition)));
    needsBySignal
        .getOrDefault(row.from(), List.of())
        .forEach(need -> needs.add(conditions.holds(need.condition())));
    return needs;
  }

  private Variable startTime() {
    Variable timeRun =
        network.timer("start: time", Words.through(), starting, table.times().start());
    network.define(starting, never(), is(timeRun));
    return network.equation("start: done", Words.through(), not(starting));
  }

  private void declare() {
    var aspects = AspectReach.aspectsOf(table);
    for (Emergency kind : Emergency.values()) {
      emergencies.put(kind, new EmergencyCircuit(kind, network));
    }
    int signalsAhead =
        AspectReach.signalsAhead(table.ladders().values())
            .orElseThrow(() -> new IllegalArgumentException("ladders do not bottom out at stop"));
    layout
        .sections()
        .forEach(
            (id, section) ->
                sections.put(
                    id, new SectionCircuit(section, table.times().lossOfShunt(), network)));
    layout.switches().forEach((id, toe) -> switches.put(id, new SwitchCircuit(toe, network)));
    table.routes().forEach((id, row) -> routes.put(id, new RouteCircuit(row, network)));
    routes.values().forEach(index::add);
    layout
        .signals()
        .forEach(
            (id, signal) ->
                signals.put(
                    id,
                    new SignalCircuit(
                        signal, aspects.getOrDefault(id, Set.of()), signalsAhead, network)));
    table.routes().values().forEach(this::noteConflicts);
    protections.declare(this);
  }

  private void noteConflicts(RouteRow row) {
    row.conflicts().forEach(other -> noteConflict(row.id(), other));
    row.alsoClear().forEach(section -> noteThoseWhoRunInto(section, row));
  }

  /**
   * A train on another route would come into a fouling section or an overlap of {@code row} (49 CFR
   * 236.773). One that goes on from where {@code row} ends runs away from it.
   */
  private void noteThoseWhoRunInto(String section, RouteRow row) {
    for (RouteCircuit other : index.over(section)) {
      if (!other.row.from().equals(row.to())) {
        noteConflict(row.id(), other.row.id());
      }
    }
  }

  private void noteConflict(String one, String other) {
    conflicts.computeIfAbsent(one, id -> new LinkedHashSet<>()).add(routes.get(other));
    conflicts.computeIfAbsent(other, id -> new LinkedHashSet<>()).add(routes.get(one));
  }

  private void define() {
    sections.values().forEach(section -> section.define(this));
    switches.values().forEach(toe -> toe.define(this));
    routes.values().forEach(route -> route.define(this));
    signals.values().forEach(signal -> signal.define(this));
    protections.define(this);
  }
}
