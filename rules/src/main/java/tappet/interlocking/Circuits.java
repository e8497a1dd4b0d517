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
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.layout.TrackPlan;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.AspectReach;
import tappet.rules.ControlTable;
import tappet.rules.OwnersNeed;
import tappet.rules.RouteRow;
import tappet.rules.TrafficLine;
import tappet.sentence.Command.Heading;

/** The circuits of a whole layout: declared first, since they read each other, and then defined. */
final class Circuits {

  final Layout layout;
  final ControlTable table;
  final NetworkBuilder network = new NetworkBuilder();
  final Map<String, SectionCircuit> sections = new LinkedHashMap<>();
  final Map<String, SwitchCircuit> switches = new LinkedHashMap<>();
  final Map<String, MotorCircuit> motors = new LinkedHashMap<>();
  final Map<String, ElectricLockCircuit> locks = new LinkedHashMap<>();
  final Map<String, RouteCircuit> routes = new LinkedHashMap<>();
  final Map<String, AutomaticCircuit> automatics = new LinkedHashMap<>();
  final Map<String, TrafficCircuit> lines = new LinkedHashMap<>();
  final Map<String, SignalCircuit> signals = new LinkedHashMap<>();
  final Map<String, ApproachLight> lights = new LinkedHashMap<>();
  final ClockCircuit clock = new ClockCircuit(network);
  final Map<Emergency, EmergencyCircuit> emergencies = new EnumMap<>(Emergency.class);
  final ProtectionCircuits protections;
  final LinesideCircuits lineside;

  /** True from the start until its time has run. */
  final Variable starting;

  /**
   * Nothing is granted before it is true: a train may still run on a signal of before the start.
   */
  final Variable started;

  private final Map<String, TrafficCircuit> lineOfSection = new LinkedHashMap<>();
  private final RouteIndex<RouteCircuit> index = new RouteIndex<>();
  private final RouteIndex<AutomaticCircuit> automaticIndex = new RouteIndex<>();
  private final SwitchIndex numbers = new SwitchIndex();
  private final Map<OwnersNeed.Of, Map<String, List<OwnersNeed>>> needs;
  private final Conflicts conflicts = new Conflicts();
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
    this.needs =
        table.needs().stream()
            .collect(Collectors.groupingBy(OwnersNeed::of, Collectors.groupingBy(OwnersNeed::id)));
    this.starting = network.latchInitiallyTrue("start: time runs", Words.through());
    this.started = startTime();
    TrackPlan plan = new TrackPlan(layout);
    this.lineside = new LinesideCircuits(plan, table, network);
    this.protections = new ProtectionCircuits(plan, network);
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

  /** The switch with all ends that move together with it. */
  List<SwitchCircuit> ends(Switch toe) {
    return numbers.ends(toe.number());
  }

  /** The electric lock that holds a switch and all ends that move with it. */
  Optional<ElectricLockCircuit> lock(Switch toe) {
    return Optional.ofNullable(locks.get(toe.number()));
  }

  /** The electric locks of the switches that lie in a section. */
  List<ElectricLockCircuit> locksIn(String section) {
    return numbers.in(section).stream().flatMap(end -> lock(end.toe).stream()).distinct().toList();
  }

  SignalCircuit signal(String id) {
    return signals.get(id);
  }

  RouteCircuit route(String id) {
    return routes.get(id);
  }

  /** What is true while a route is locked, or the traffic calls its automatic signal. */
  Variable lockedBy(String route) {
    return automatics.containsKey(route) ? automatics.get(route).called : route(route).locked;
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

  /** What may not be used together with what, besides that which shares sections. */
  Conflicts conflicts() {
    return conflicts;
  }

  /** By what signals clear: routes, and the ways beyond automatic signals. */
  List<Clearing> clearings() {
    List<Clearing> clearings = new ArrayList<>(routes.values());
    clearings.addAll(automatics.values());
    return clearings;
  }

  /** The ways beyond automatic signals that run over a section. */
  List<AutomaticCircuit> automaticsOver(String section) {
    return automaticIndex.over(section);
  }

  /** The ways beyond an automatic signal. */
  List<AutomaticCircuit> automaticsFrom(String signal) {
    return automaticIndex.from(signal);
  }

  /** By what a signal clears, in the order of the table. */
  List<Clearing> clearingsFrom(String signal) {
    List<Clearing> clearings = new ArrayList<>(routesFrom(signal));
    clearings.addAll(automaticsFrom(signal));
    return clearings;
  }

  /** The lines that a row runs over, and which way. */
  Map<TrafficCircuit, Heading> linesOf(RouteRow row) {
    Map<TrafficCircuit, Heading> ways = new LinkedHashMap<>();
    for (String section : row.path()) {
      Optional.ofNullable(lineOfSection.get(section))
          .ifPresent(line -> ways.put(line, line.line.headingOf(row).orElseThrow()));
    }
    return ways;
  }

  /** The lines whose traffic locks a switch, since an automatic signal leads over it. */
  Set<TrafficCircuit> linesLocking(String switchId) {
    Set<TrafficCircuit> locking = new LinkedHashSet<>();
    automaticIndex
        .setting(switchId)
        .forEach(automatic -> locking.addAll(linesOf(automatic.row).keySet()));
    return locking;
  }

  /** The variables that order something to be moved when they become true. */
  List<Variable> orders() {
    List<Variable> orders = new ArrayList<>();
    for (MotorCircuit motor : motors.values()) {
      for (Position position : Position.values()) {
        orders.add(motor.sent(position));
      }
    }
    for (ElectricLockCircuit lock : locks.values()) {
      orders.addAll(List.of(lock.tellRelease, lock.tellSecure));
    }
    for (OpeningCircuit opening : lineside.openings.values()) {
      orders.addAll(List.of(opening.sentLocked, opening.sentUnlocked));
    }
    return orders;
  }

  /** That no emergency stands. */
  List<Expression> noEmergency() {
    return emergencies.values().stream().map(emergency -> not(emergency.stands)).toList();
  }

  /** The owner's conditions. */
  Conditions conditions() {
    return conditions;
  }

  /** What the owner demands of a row: its own needs and those of its signal. */
  List<Expression> ownersNeeds(RouteRow row) {
    List<Expression> demands = new ArrayList<>();
    row.needs().ifPresent(condition -> demands.add(conditions.holds(condition)));
    demands.addAll(ownersNeeds(OwnersNeed.Of.SIGNAL, row.from()));
    return demands;
  }

  /** What the owner demands of one device. */
  List<Expression> ownersNeeds(OwnersNeed.Of of, String id) {
    return needs.getOrDefault(of, Map.of()).getOrDefault(id, List.of()).stream()
        .map(need -> conditions.holds(need.condition()))
        .toList();
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
                    id,
                    new SectionCircuit(
                        section, table.times().lossOfShunt(), lineside.districtOf(id), network)));
    declareSwitches();
    table.lines().values().forEach(this::declare);
    table.routes().values().forEach(this::declare);
    routes.values().forEach(index::add);
    automatics.values().forEach(automaticIndex::add);
    layout
        .signals()
        .forEach(
            (id, signal) ->
                signals.put(
                    id,
                    new SignalCircuit(
                        signal,
                        aspects.getOrDefault(signal.repeats().orElse(id), Set.of()),
                        signalsAhead,
                        network)));
    table
        .lights()
        .forEach(
            (id, rule) ->
                lights.put(id, new ApproachLight(rule, layout.signals().get(id), network)));
    routes.values().forEach(route -> conflicts.note(route, this));
    protections.declare(this);
  }

  private void declare(TrafficLine line) {
    TrafficCircuit circuit = new TrafficCircuit(line, network);
    lines.put(line.id(), circuit);
    line.sections().forEach(section -> lineOfSection.put(section, circuit));
  }

  private void declare(RouteRow row) {
    if (row.automatic()) {
      automatics.put(row.id(), new AutomaticCircuit(row, table.times().start(), network));
    } else {
      routes.put(row.id(), new RouteCircuit(row, network));
    }
  }

  private void declareSwitches() {
    layout.switches().values().stream()
        .filter(toe -> toe.number().equals(toe.id()) && toe.control().hasMotor())
        .forEach(lead -> motors.put(lead.id(), new MotorCircuit(lead, network)));
    for (Switch toe : layout.switches().values()) {
      var motor = Optional.ofNullable(motors.get(toe.number()));
      SwitchCircuit circuit = new SwitchCircuit(toe, motor, network);
      switches.put(toe.id(), circuit);
      numbers.add(circuit);
    }
    table
        .locks()
        .forEach(
            (id, rule) ->
                locks.put(id, new ElectricLockCircuit(layout.switches().get(id), rule, network)));
  }

  private void define() {
    sections.values().forEach(section -> section.define(this));
    switches.values().forEach(toe -> toe.define(this));
    lines.values().forEach(line -> line.define(this));
    locks.values().forEach(lock -> lock.define(this));
    routes.values().forEach(route -> route.define(this));
    automatics.values().forEach(automatic -> automatic.define(this));
    signals.values().forEach(signal -> signal.define(this));
    lights.values().forEach(light -> light.define(this));
    lineside.define(this);
    protections.define(this);
    declareWhatComesTogether();
  }

  /** One input asks for one thing, which may be more than one pulse. */
  private void declareWhatComesTogether() {
    routes
        .values()
        .forEach(route -> network.together(List.of(route.asked, route.waiting.fleetAsked)));
    protections.declareWhatComesTogether();
  }
}
