package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.TrackPlan;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.RouteRow;
import tappet.sentence.Condition;
import tappet.sentence.Protected;

/**
 * The protection of people at work, for the whole layout: permits, blockings and blue flags, and
 * whether it is known who was protected before the start.
 *
 * <p>What was decided where practice differs:
 *
 * <ul>
 *   <li>A permit may be given on sections that are occupied or unknown, since the crew's own train
 *       may stand there. The answer names them, so that both sides agree on what does.
 *   <li>Nothing is given on a section or switch under a locked route, a cancelled one included, nor
 *       before the time since the start has run.
 *   <li>Nothing is given on a section while a train may come into it by an automatic signal. The
 *       one that stands in it already may be the crew's own.
 *   <li>A signal may be blocked at any time: it goes to Stop at once, and a route from it stays
 *       locked and is cancelled with its time.
 *   <li>A section has one protection at a time: two crews would each think it theirs.
 *   <li>A switch in a permit's sections moves for the holder alone, and only as detector and route
 *       locking let it; in a blocked or flagged section it moves for nobody.
 *   <li>A route that ends where no signal stands leads on into the section beyond.
 * </ul>
 */
final class ProtectionCircuits {

  /** Who was protected before the start is not known for certain: nothing is lined or thrown. */
  final Variable inDoubt;

  /** It has been lost who was protected; heard only while the time since the start runs. */
  final Variable lost;

  /** A person has made sure who is protected. */
  final Variable confirmed;

  private final TrackPlan plan;
  private final NetworkBuilder network;
  private final Map<String, ProtectedSection> sections = new LinkedHashMap<>();
  private final Map<String, ProtectedSwitch> switches = new LinkedHashMap<>();
  private final Map<String, ProtectionCircuit> signals = new LinkedHashMap<>();
  private final Map<String, List<RouteCircuit>> reachingIn = new LinkedHashMap<>();
  private final Map<String, List<ProtectedSection>> flagsById = new LinkedHashMap<>();

  ProtectionCircuits(TrackPlan plan, NetworkBuilder network) {
    this.plan = plan;
    this.network = network;
    inDoubt =
        network.latch(
            "protections: in doubt",
            Words.fact(
                "who was protected before the start is not known; make sure, and then tell 'confirm"
                    + " protections'",
                "it is known who is protected"));
    lost = network.pulse("protections: lost", Words.through());
    confirmed = network.pulse("protections: confirmed", Words.through());
  }

  ProtectedSection of(SectionCircuit section) {
    return sections.get(section.section.id());
  }

  ProtectedSwitch of(SwitchCircuit toe) {
    return switches.get(toe.toe.id());
  }

  /** The protection of one kind on a device of the layout. */
  ProtectionCircuit of(Protected by, String device) {
    return find(by, device).orElseThrow();
  }

  /** The same; empty where the layout has no such device. */
  Optional<ProtectionCircuit> find(Protected by, String device) {
    Optional<ProtectedSection> section = Optional.ofNullable(sections.get(device));
    return switch (by) {
      case PERMIT -> section.map(found -> found.permit);
      case BLOCKED_SECTION -> section.map(found -> found.blocking);
      case FLAG -> section.map(found -> found.flag);
      case BLOCKED_SWITCH -> Optional.ofNullable(switches.get(device)).map(toe -> toe.blocking);
      case BLOCKED_SIGNAL -> Optional.ofNullable(signals.get(device));
    };
  }

  /** A section is under permit. */
  Variable permitOn(String section) {
    return sections.get(section).permit.stands;
  }

  /** A blocked signal is put to Stop and stays there until it is asked for once more. */
  Variable blockedSignal(String signal) {
    return signals.get(signal).stands;
  }

  /**
   * What the protection of people asks of a route, when it is lined and for as long as its signal
   * is to proceed (interlocking sheet, H.22).
   */
  List<Expression> allow(RouteRow row) {
    List<Expression> free = new ArrayList<>();
    free.add(not(inDoubt));
    free.add(not(blockedSignal(row.from())));
    sectionsReached(row).forEach(id -> free.add(not(sections.get(id).closed)));
    return free;
  }

  /** True while the condition, or its opposite, is known to hold. */
  Expression holds(Condition.IsProtected condition, boolean wanted) {
    Variable stands = of(condition.by(), condition.device()).stands;
    return wanted ? is(stands) : all(not(stands), not(inDoubt));
  }

  void declare(Circuits circuits) {
    circuits.sections.forEach(
        (id, section) ->
            sections.put(
                id,
                new ProtectedSection(section, circuits.table.linedAwayFrom(id, plan), network)));
    circuits.switches.forEach((id, toe) -> switches.put(id, new ProtectedSwitch(toe, network)));
    circuits.signals.forEach((id, signal) -> signals.put(id, blocking(signal)));
    circuits.routes.values().forEach(this::noteWhereItReachesIn);
    sections.values().forEach(this::noteWhatItsFlagLocks);
  }

  void define(Circuits circuits) {
    network.define(inDoubt, all(is(lost), is(circuits.starting)), is(confirmed));
    sections.forEach(
        (id, section) ->
            section.define(
                reachingIn.getOrDefault(id, List.of()), automaticsInto(id, circuits), circuits));
    switches.forEach(
        (id, toe) ->
            toe.define(
                SwitchCircuit.locksOf(circuits.ends(toe.toe.toe), circuits),
                flagsById.getOrDefault(id, List.of()),
                circuits));
    signals.values().forEach(signal -> signal.define(List.of(not(signal.stands)), circuits));
  }

  /** A permit is given on several sections at once, and what stood before the start comes back. */
  void declareWhatComesTogether() {
    List<ProtectionCircuit> all = new ArrayList<>(signals.values());
    sections.values().forEach(section -> section.kinds().forEach(all::add));
    switches.values().forEach(toe -> all.add(toe.blocking));
    network.together(all.stream().map(circuit -> circuit.asked).toList());
    network.together(all.stream().map(circuit -> circuit.ended).toList());
    List<Variable> restored = new ArrayList<>(all.stream().map(any -> any.restored).toList());
    restored.add(lost);
    network.together(restored);
  }

  private ProtectionCircuit blocking(SignalCircuit signal) {
    String name = Naming.signal(signal.signal);
    return new ProtectionCircuit(
        "signal " + signal.signal.id() + ": blocked",
        Words.fact(name + " is blocked", name + " is not blocked"),
        network);
  }

  private void noteWhereItReachesIn(RouteCircuit route) {
    sectionsReached(route.row).stream()
        .filter(id -> !route.row.path().contains(id))
        .forEach(id -> reachingIn.computeIfAbsent(id, any -> new ArrayList<>()).add(route));
  }

  private List<AutomaticCircuit> automaticsInto(String section, Circuits circuits) {
    return circuits.automatics.values().stream()
        .filter(automatic -> sectionsReached(automatic.row).contains(section))
        .toList();
  }

  private void noteWhatItsFlagLocks(ProtectedSection section) {
    section.linedAway().stream()
        .map(leg -> flagsById.computeIfAbsent(leg.switchId(), any -> new ArrayList<>()))
        .filter(flags -> !flags.contains(section))
        .forEach(flags -> flags.add(section));
  }

  /**
   * Where a train on a route may come to: its way, its fouling sections, and what lies beyond its
   * end where no signal stands.
   */
  private Set<String> sectionsReached(RouteRow row) {
    Set<String> reached = new LinkedHashSet<>(row.path());
    reached.addAll(row.alsoClear());
    if (row.nextSignal().isEmpty()) {
      plan.tracksAt(row.to()).forEach(track -> reached.add(track.section()));
    }
    return reached;
  }
}
