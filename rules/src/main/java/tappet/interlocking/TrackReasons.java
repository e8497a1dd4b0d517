package tappet.interlocking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tappet.layout.Position;
import tappet.network.Explanation;
import tappet.network.Variable;

/** Why switches, their locks and sections are as they are. */
final class TrackReasons {

  private final Circuits circuits;
  private final Reasoning reasoning;

  /** To whom switches are released. */
  final LockHolders holders = new LockHolders();

  TrackReasons(Circuits circuits, Reasoning reasoning) {
    this.circuits = circuits;
    this.reasoning = reasoning;
  }

  Explanation toe(SwitchCircuit toe, long nowNs) {
    List<Explanation> reasons = new ArrayList<>();
    toe.alarms().stream()
        .filter(this::is)
        .forEach(alarm -> reasons.add(Explanation.fact(alarm.words().whenTrue())));
    toe.whyNotAssumed(this::is).ifPresent(why -> reasons.add(Explanation.fact(why)));
    ThrownBy.another(toe.toe).ifPresent(another -> reasons.add(Explanation.fact(another)));
    circuits.lock(toe.toe).ifPresent(lock -> reasons.addAll(lock(lock, nowNs)));
    toe.motor.ifPresent(moving -> reasons.add(locked(toe, nowNs)));
    return new Explanation(lie(toe), reasons);
  }

  private Explanation locked(SwitchCircuit toe, long nowNs) {
    return is(toe.locked)
        ? new Explanation(toe.locked.words().whenTrue(), isLocked(toe, nowNs))
        : Explanation.fact(toe.locked.words().whenFalse());
  }

  /** What locks a switch. */
  List<Explanation> isLocked(SwitchCircuit toe, long nowNs) {
    return reasoning.keeping(toe.locked, nowNs);
  }

  /** Why a switch is not sent to a position: what locks it, or why it stays though called there. */
  List<Explanation> isBlocked(SwitchCircuit toe, Position position, long nowNs) {
    return reasoning.keeping(toe.locked, toe.blocked(position), nowNs);
  }

  private List<Explanation> lock(ElectricLockCircuit lock, long nowNs) {
    List<Explanation> reasons = new ArrayList<>();
    lock.alarms().stream()
        .filter(this::is)
        .forEach(alarm -> reasons.add(Explanation.fact(alarm.words().whenTrue())));
    Variable secured = lock.secured();
    Optional<String> holding = is(lock.releasing) ? Optional.empty() : holding(lock);
    reasons.add(Explanation.fact(holding.orElseGet(() -> secured.words().when(is(secured)))));
    reasons.addAll(lockTime(lock, nowNs));
    return reasons;
  }

  /** Who has a switch, or is to have it; empty where its lock is nobody's. */
  Optional<String> holding(ElectricLockCircuit lock) {
    for (Variable state : List.of(lock.released, lock.releasing)) {
      if (is(state)) {
        return Optional.of(holders.to(state.words().whenTrue(), lock.toe));
      }
    }
    return holders
        .ofBefore(lock.toe.id())
        .map(
            name ->
                "%s, and %s had it before the start"
                    .formatted(lock.secured().words().whenFalse(), name));
  }

  /** How long a lock that is to be released still waits; empty where it does not. */
  List<Explanation> lockTime(ElectricLockCircuit lock, long nowNs) {
    return is(lock.releasing)
        ? List.of(reasoning.timed("its release time runs", lock.releasing, nowNs))
        : List.of();
  }

  String lie(SwitchCircuit toe) {
    for (Position position : Position.values()) {
      if (is(toe.lies(position))) {
        return toe.lies(position).words().whenTrue();
      }
    }
    return Naming.toe(toe.toe)
        + (toe.toe.isDetected()
            ? " is not detected in either position"
            : " is not known to lie in either position (no detection)");
  }

  Explanation section(SectionCircuit section) {
    List<Explanation> reasons = new ArrayList<>();
    if (!is(section.known)) {
      reasons.addAll(reasoning.of(section.known));
    }
    if (is(section.clear) && !is(section.vacant)) {
      reasons.addAll(reasoning.of(section.vacant));
    }
    if (is(section.held)) {
      reasons.addAll(reasoning.keeping(section.held));
    }
    Variable closed = circuits.protections.of(section).closed;
    if (is(closed)) {
      reasons.addAll(reasoning.keeping(closed));
    }
    return new Explanation(occupancy(section), reasons);
  }

  String occupancy(SectionCircuit section) {
    if (!is(section.known)) {
      return section.known.words().whenFalse();
    }
    return is(section.occupied)
        ? section.occupied.words().whenTrue()
        : Naming.section(section.section) + " is clear";
  }

  private boolean is(Variable variable) {
    return reasoning.is(variable);
  }
}
