package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.layout.ElectricLock;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.LockRule;
import tappet.rules.OwnersNeed;

/**
 * The electric lock of a switch that is thrown by hand (49 CFR 236.16, 236.207, 236.314, 236.410).
 *
 * <p>In the trade's order: asked for, from then on no route over the switch; time run with every
 * signal over it at Stop, or nobody coming, or the train standing at it; released; thrown; told to
 * secure; detected to hold, and only then routes again.
 */
final class ElectricLockCircuit {

  final Switch toe;

  /** A person asks for the lock to be released, or to be secured. */
  final Variable releaseAsked;

  final Variable secureAsked;

  /** The holder of the permit that the switch lies under asks for its release. */
  final Variable releaseAskedByHolder;

  /** Nothing stands against its release, and no permit makes it one crew's to ask for. */
  final Variable free;

  /** No route over the switch is lined, but the one whose train stands at it. */
  final Variable freeForHolder;

  /** Asked for, and its time runs. */
  final Variable releasing;

  /** It has been told to let the switch go. */
  final Variable released;

  /** True for one tick when the lock is to be told. */
  final Variable tellRelease;

  final Variable tellSecure;

  /** All ends lie in one position, where the lock can hold them. */
  final Variable canSecure;

  /** It holds the switch, and routes may count on it. */
  final Variable holds;

  private final LockRule rule;
  private final Map<LockState, Variable> reported = new EnumMap<>(LockState.class);
  private final Variable secured;
  private final Variable opened;
  private final Variable timeRun;
  private final Optional<Variable> toldToSecure;

  /**
   * Without detection: its board or connection is lost, and nobody can tell whether it followed.
   */
  private final Optional<Variable> forgotten;

  private final Variable wasSecured;
  private final Variable openWithoutLeave;
  private final Variable told;
  private final Variable disagrees;
  private final Variable doesNotFollow;
  private final Map<Position, Variable> stood = new EnumMap<>(Position.class);
  private final Map<Position, Variable> movedFrom = new EnumMap<>(Position.class);

  ElectricLockCircuit(Switch toe, LockRule rule, NetworkBuilder network) {
    this.toe = toe;
    this.rule = rule;
    ElectricLock lock = toe.lock().orElseThrow();
    String name = Naming.toe(toe);
    String device = "the lock of " + name;
    String role = "lock " + toe.id() + ": ";

    releaseAsked = network.pulse(role + "release asked", Words.through());
    releaseAskedByHolder =
        network.pulse(role + "release asked by the permit's holder", Words.through());
    secureAsked = network.pulse(role + "secure asked", Words.through());
    Words freedom = Words.because(name + " can be released", name + " cannot be released");
    free = network.equation(role + "free", freedom);
    freeForHolder = network.equation(role + "free for the permit's holder", freedom);
    releasing =
        network.latch(
            role + "releasing",
            Words.fact(name + " is to be released", name + " is not to be released"));
    timeRun =
        network.timer(
            role + "release time",
            Words.fact("its release time has run", "its release time runs"),
            releasing,
            rule.releaseTime());
    released =
        network.latch(
            role + "released", Words.fact(name + " is released", name + " is not released"));
    tellRelease = network.equation(role + "is told to release", Words.through());
    tellSecure = network.equation(role + "is told to secure", Words.through());
    canSecure =
        network.equation(
            role + "can secure",
            Words.because(name + " can be secured", name + " cannot be secured"));

    if (lock.assumedAfter().isEmpty()) {
      for (LockState state : LockState.values()) {
        reported.put(state, network.input(role + "detected " + state.word(), Words.through()));
      }
    }
    secured = network.equation(role + "secured", wordsOfHolding(device, lock));
    opened = network.equation(role + "opened", Words.through());
    toldToSecure =
        lock.assumedAfter().map(time -> network.latch(role + "called secured", Words.through()));
    forgotten = lock.assumedAfter().map(time -> network.pulse(role + "forgotten", Words.through()));
    toldToSecure.ifPresent(
        called ->
            network.define(
                secured,
                is(
                    network.timer(
                        role + "time to secure",
                        Words.through(),
                        called,
                        lock.assumedAfter().orElseThrow()))));
    holds = network.equation(role + "holds", Words.through());

    wasSecured = network.latch(role + "was secured", Words.through());
    openWithoutLeave =
        network.equation(
            role + "open without leave",
            Words.fact(device + " was opened without leave", device + " holds again"));
    told = network.latch(role + "has been told", Words.through());
    disagrees = network.equation(role + "disagrees", Words.through());
    doesNotFollow =
        network.timer(
            role + "time",
            Words.fact(device + " is not as it should be", device + " is as it should be again"),
            disagrees,
            toe.throwTime());
    for (Position position : Position.values()) {
      String word = position.word();
      stood.put(position, network.latch(role + "switch stood " + word, Words.through()));
      movedFrom.put(
          position,
          network.latch(
              role + "switch left " + word + " without leave",
              Words.fact(
                  name + " was thrown without leave, having stood " + word,
                  name + " is where it was left")));
    }
  }

  private static Words wordsOfHolding(String device, ElectricLock lock) {
    return lock.assumedAfter().isEmpty()
        ? Words.fact(device + " is secured", device + " is not detected secured")
        : Words.fact(
            device + " is assumed to be secured (no detection)",
            device + " is not known to be secured (no detection)");
  }

  /** It is detected to be secured, or taken to be. */
  Variable secured() {
    return secured;
  }

  /** What a person must see to. */
  List<Variable> alarms() {
    List<Variable> alarms = new ArrayList<>(List.of(openWithoutLeave, doesNotFollow));
    alarms.addAll(movedFrom.values());
    return alarms;
  }

  /** What its board reports; empty where nothing is known any more. */
  void lay(Optional<LockState> state, Stepper stepper) {
    if (state.isEmpty()) {
      forgotten.ifPresent(stepper::pulse);
    }
    reported.forEach((at, input) -> stepper.set(input, state.equals(Optional.of(at))));
  }

  /** What its board was last told, where that still holds. */
  Optional<Output.Lock> order(Stepper stepper) {
    boolean letGo = stepper.value(released);
    boolean stands = letGo ? stepper.value(freeForHolder) : stepper.value(told);
    return stands
        ? Optional.of(new Output.Lock(toe.id(), letGo ? LockState.RELEASED : LockState.SECURED))
        : Optional.empty();
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    List<SwitchCircuit> ends = circuits.ends(toe);
    List<Expression> demands = demands(ends, circuits);
    network.define(freeForHolder, all(demands));
    demands.addAll(noPermit(ends, circuits));
    network.define(free, all(demands));
    network.define(
        releasing,
        all(
            any(all(is(releaseAsked), is(free)), all(is(releaseAskedByHolder), is(freeForHolder))),
            not(released)),
        any(is(secureAsked), is(released), Expression.not(all(circuits.noEmergency()))));
    network.define(
        tellRelease,
        all(
            is(releasing),
            not(released),
            is(freeForHolder),
            not(secureAsked),
            nobodyComes(circuits)));
    network.define(canSecure, any(lying(Position.NORMAL, ends), lying(Position.REVERSE, ends)));
    network.define(tellSecure, all(is(secureAsked), is(canSecure)));
    network.define(released, is(tellRelease), is(tellSecure));
    defineReports(circuits);
    defineHolding(network);
    defineAlarms(ends, network);
  }

  private static Expression lying(Position position, List<SwitchCircuit> ends) {
    return SwitchCircuit.allLie(position, ends);
  }

  /** 49 CFR 236.207, 236.410: every signal over it, both ways, has been put back for good. */
  private List<Expression> demands(List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> demands = new ArrayList<>();
    demands.add(is(circuits.started));
    demands.addAll(circuits.noEmergency());
    demands.addAll(circuits.ownersNeeds(OwnersNeed.Of.LOCK, toe.id()));
    for (SwitchCircuit end : ends) {
      String section = end.toe.section();
      demands.add(not(circuits.protections.of(end).fixed));
      circuits
          .routesOver(section)
          .forEach(route -> demands.add(any(not(route.holds(section)), itsTrainStandsHere(route))));
      circuits
          .automaticsOver(section)
          .forEach(
              automatic ->
                  demands.add(
                      any(
                          all(not(automatic.called), automatic.nobodyRunsTo(section, circuits)),
                          trainStandsUnder(automatic, circuits))));
      circuits.routesSetting(end.toe.id()).stream()
          .filter(route -> route.row.flank().containsKey(end.toe.id()))
          .forEach(route -> demands.add(not(route.locked)));
    }
    return demands;
  }

  /** Who holds a permit lets nobody else throw switches in it (49 CFR 214.321). */
  private static List<Expression> noPermit(List<SwitchCircuit> ends, Circuits circuits) {
    return ends.stream()
        .map(end -> end.toe.section())
        .distinct()
        .<Expression>map(section -> not(circuits.protections.permitOn(section)))
        .toList();
  }

  /** The route's signal is at Stop behind the train that stands on the release section. */
  private Expression itsTrainStandsHere(RouteCircuit route) {
    return rule.releaseSection()
        .filter(route.row.path()::contains)
        .map(section -> all(is(route.entered(section)), not(route.proceeds)))
        .orElse(never());
  }

  /** The automatic signal is at Stop behind the train that stands on the release section. */
  private Expression trainStandsUnder(AutomaticCircuit automatic, Circuits circuits) {
    return rule.releaseSection()
        .filter(automatic.row.path()::contains)
        .map(section -> all(circuits.section(section).isOccupied(), not(automatic.proceeds)))
        .orElse(never());
  }

  private Expression nobodyComes(Circuits circuits) {
    return any(is(timeRun), all(approachVacant(circuits)), all(trainStandsHere(circuits)));
  }

  private List<Expression> approachVacant(Circuits circuits) {
    return rule.approach().isEmpty()
        ? List.of(never())
        : vacant(rule.approach().stream(), circuits);
  }

  /** 49 CFR 236.16: it stands on the release section, and nothing else is in the approach. */
  private List<Expression> trainStandsHere(Circuits circuits) {
    if (rule.releaseSection().isEmpty()) {
      return List.of(never());
    }
    String here = rule.releaseSection().get();
    List<Expression> parts = new ArrayList<>();
    parts.add(circuits.section(here).isOccupied());
    parts.addAll(
        vacant(rule.approach().stream().filter(section -> !section.equals(here)), circuits));
    return parts;
  }

  private static List<Expression> vacant(Stream<String> sections, Circuits circuits) {
    return sections.<Expression>map(section -> is(circuits.section(section).vacant)).toList();
  }

  /** Without detection it counts as open until it has been told to secure, and time has run. */
  private void defineReports(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    toldToSecure.ifPresentOrElse(
        called -> {
          Expression off = is(circuits.emergencies.get(Emergency.OFF).stands);
          network.define(
              called, is(tellSecure), any(is(tellRelease), is(forgotten.orElseThrow()), off));
          network.define(opened, never());
        },
        () -> {
          Variable open = reported.get(LockState.RELEASED);
          Variable shut = reported.get(LockState.SECURED);
          network.define(secured, all(is(shut), not(open)));
          network.define(opened, all(is(open), not(shut)));
        });
  }

  private void defineHolding(NetworkBuilder network) {
    List<Expression> holding = new ArrayList<>();
    holding.add(is(secured));
    holding.add(not(released));
    holding.add(not(releasing));
    movedFrom.values().forEach(moved -> holding.add(not(moved)));
    network.define(holds, all(holding));
  }

  private void defineAlarms(List<SwitchCircuit> ends, NetworkBuilder network) {
    network.define(wasSecured, all(is(secured), not(released)), is(released));
    network.define(openWithoutLeave, all(is(wasSecured), is(opened)));
    network.define(told, any(is(tellRelease), is(tellSecure)), never());
    network.define(
        disagrees,
        any(
            all(is(released), not(toldToSecure.isPresent() ? released : opened)),
            all(not(released), is(told), not(secured)),
            all(not(released), is(opened))));
    for (Position position : Position.values()) {
      Expression elsewhere = anyLies(position.opposite(), ends);
      network.define(stood.get(position), lying(position, ends), elsewhere);
      network.define(
          movedFrom.get(position),
          all(not(released), is(stood.get(position)), elsewhere),
          any(is(released), lying(position, ends)));
    }
  }

  private static Expression anyLies(Position position, List<SwitchCircuit> ends) {
    return any(ends.stream().<Expression>map(end -> is(end.lies(position))).toList());
  }
}
