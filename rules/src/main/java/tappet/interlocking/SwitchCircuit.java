package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Stream;
import tappet.layout.Control;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.OwnersNeed;

/**
 * A switch, one end of a crossover, or a derail: where it lies, what locks it, and whether a route
 * may count on it. What moves it is a {@link MotorCircuit}, or a hand.
 *
 * <p>The position it is called to is stored: no equation has a default position, so that the loss
 * of a lock or of a route never moves anything. A call is no evidence of position (49 CFR 236.7):
 * signals ask for call and detection together.
 */
final class SwitchCircuit {

  private static final String NOT_SENT = "it has not been sent since the start";
  private static final String MAY_NOT_HAVE_FOLLOWED =
      "it may not have followed its last order: its board, a connection or the power was lost;"
          + " send it again";

  final Switch toe;
  final Variable locked;

  /** What moves it, together with its other ends; empty where a hand does. */
  final Optional<MotorCircuit> motor;

  /** What stands in for detection where there is none. */
  private final Optional<AssumedPosition> assumed;

  private final Optional<HandThrownCircuit> byHand;
  private final Map<Position, Variable> detected = new EnumMap<>(Position.class);
  private final Map<Position, Variable> lies = new EnumMap<>(Position.class);
  private final Map<Position, Variable> blocked = new EnumMap<>(Position.class);
  private final Map<Position, Variable> inPlace = new EnumMap<>(Position.class);

  /**
   * @param motor the motor of its number; empty where a hand throws it
   */
  SwitchCircuit(Switch toe, Optional<MotorCircuit> motor, NetworkBuilder network) {
    this.toe = toe;
    this.motor = motor;
    String name = Naming.toe(toe);
    String role = "switch " + toe.id() + ": ";

    this.assumed =
        toe.working().assumedAfter().map(time -> new AssumedPosition(toe, time, network));
    for (Position position : Position.values()) {
      String word = position.word();
      if (toe.isDetected()) {
        detected.put(position, network.input(role + "detected " + word, Words.through()));
      }
      lies.put(position, network.equation(role + "lies " + word, wordsOfLying(name, word)));
      inPlace.put(position, network.equation(role + "in place " + word, Words.through()));
      blocked.put(
          position,
          network.equation(role + "blocked from " + word, ThrownBy.wordsBlocked(toe, position)));
    }
    locked =
        network.equation(role + "locked", Words.joining(name + " is locked", name + " is free"));
    this.byHand =
        motor.isEmpty() && isLead()
            ? Optional.of(new HandThrownCircuit(toe, network))
            : Optional.empty();
  }

  private Words wordsOfLying(String name, String word) {
    return assumed.isEmpty()
        ? Words.fact(name + " lies " + word, name + " is not detected " + word)
        : Words.fact(
            name + " is assumed to lie " + word + " (no detection)",
            name + " is not known to lie " + word + " (no detection)");
  }

  private boolean isLead() {
    return toe.number().equals(toe.id());
  }

  Variable lies(Position position) {
    return lies.get(position);
  }

  /**
   * Whether a route that wants it in that position must not be lined: it would have to move and
   * must not, or nobody but a hand could move it.
   */
  Variable blocked(Position position) {
    return blocked.get(position);
  }

  /** It lies in the position with all its ends, is called nowhere else, and is held there. */
  Variable inPlace(Position position) {
    return inPlace.get(position);
  }

  /** True for one tick when its own motor is to be told to move; empty where it has none. */
  Optional<Variable> sent(Position position) {
    return toe.to().isEmpty() ? Optional.empty() : motor.map(moving -> moving.sent(position));
  }

  /** Why nothing can be assumed of where it lies; empty where that is detected, or assumed. */
  Optional<String> whyNotAssumed(Predicate<Variable> is) {
    return assumed
        .filter(memory -> is.test(memory.unknown))
        .flatMap(any -> motor)
        .map(moving -> hasBeenCalled(moving, is) ? MAY_NOT_HAVE_FOLLOWED : NOT_SENT);
  }

  private static boolean hasBeenCalled(MotorCircuit moving, Predicate<Variable> is) {
    return Stream.of(Position.values()).map(moving::called).anyMatch(is);
  }

  /** What a person must see to. */
  List<Variable> alarms() {
    List<Variable> alarms = new ArrayList<>();
    motor.filter(any -> isLead()).ifPresent(moving -> alarms.add(moving.outOfCorrespondence()));
    byHand.ifPresent(hand -> alarms.addAll(hand.alarms()));
    return alarms;
  }

  /** What its board reports; empty where nothing is known any more. */
  void lay(Optional<Position> position, Stepper stepper) {
    if (position.isEmpty()) {
      assumed.ifPresent(memory -> stepper.pulse(memory.forgotten));
    }
    detected.forEach((at, input) -> stepper.set(input, position.equals(Optional.of(at))));
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    List<SwitchCircuit> ends = circuits.ends(toe);
    network.define(locked, any(any(locksOf(ends, circuits)), stays(ends, circuits)));
    assumed.ifPresent(memory -> memory.define(motor.orElseThrow(), circuits));
    for (Position position : Position.values()) {
      network.define(lies.get(position), lying(position));
      network.define(inPlace.get(position), all(proofs(position, ends, circuits)));
      network.define(blocked.get(position), blocking(position, ends, circuits));
    }
    motor.filter(any -> isLead()).ifPresent(moving -> moving.define(ends, circuits));
    byHand.ifPresent(hand -> hand.define(ends, circuits));
  }

  private Expression lying(Position position) {
    return assumed
        .map(memory -> is(memory.lies(position)))
        .orElseGet(() -> all(is(detected.get(position)), not(detected.get(position.opposite()))));
  }

  private List<Expression> proofs(Position position, List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> proofs = new ArrayList<>();
    motor.ifPresent(moving -> proofs.add(moving.callsFor(position)));
    ends.forEach(end -> proofs.add(is(end.lies(position))));
    circuits.lock(toe).ifPresent(lock -> proofs.add(is(lock.holds)));
    return proofs;
  }

  private Expression blocking(Position position, List<SwitchCircuit> ends, Circuits circuits) {
    return motor.isEmpty() || toe.control() == Control.LOCAL
        ? not(inPlace.get(position))
        : blockedBy(is(locked), stays(ends, circuits), position, circuits);
  }

  /**
   * It would have to move and is locked, or it does not lie where it is called and something may
   * stand on it or come to it, or people have it as it lies; always where it has no motor, and
   * before the time since the start has run.
   */
  Expression blockedBy(Expression locks, Expression stays, Position position, Circuits circuits) {
    List<SwitchCircuit> ends = circuits.ends(toe);
    return motor
        .map(moving -> moving.called(position))
        .map(
            called ->
                any(
                    not(circuits.started),
                    all(not(called), locks),
                    all(
                        is(called),
                        any(not(vacant(ends, circuits)), trainMayCome(ends, circuits), stays),
                        not(allLie(position, ends)))))
        .orElse(Expression.always());
  }

  /** A train may have accepted a signal that leads over one of the ends, or counts on it. */
  static Expression trainMayCome(List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> authorities = new ArrayList<>();
    for (SwitchCircuit end : ends) {
      for (RouteCircuit route : circuits.routesSetting(end.toe.id())) {
        route.claimsOn(end.toe).forEach(claim -> authorities.add(all(is(route.call.shown), claim)));
      }
      circuits
          .linesLocking(end.toe.id())
          .forEach(line -> authorities.add(line.trainMayRun(circuits)));
    }
    return any(authorities);
  }

  /** People at work have one of the ends as it lies. */
  static Expression stays(List<SwitchCircuit> ends, Circuits circuits) {
    return any(
        ends.stream().<Expression>map(end -> is(circuits.protections.of(end).stays)).toList());
  }

  /** All ends lie in one position. */
  static Expression allLie(Position position, List<SwitchCircuit> ends) {
    return all(ends.stream().<Expression>map(end -> is(end.lies(position))).toList());
  }

  /** The sections of all ends are vacant. */
  static Expression vacant(List<SwitchCircuit> ends, Circuits circuits) {
    return all(
        ends.stream()
            .map(end -> end.toe.section())
            .distinct()
            .<Expression>map(section -> is(circuits.section(section).vacant))
            .toList());
  }

  /** What locks one end locks all that moves with it. */
  static List<Expression> locksOf(List<SwitchCircuit> ends, Circuits circuits) {
    Set<Expression> locks = new LinkedHashSet<>();
    ends.forEach(end -> locks.addAll(end.locksOf(circuits)));
    return List.copyOf(locks);
  }

  /**
   * Detector locking (common practice, no source), route locking (49 CFR 236.302), and the time
   * since the start.
   */
  List<Expression> locksOf(Circuits circuits) {
    List<Expression> locks = new ArrayList<>();
    locks.add(not(circuits.started));
    circuits.emergencies.values().forEach(emergency -> locks.add(is(emergency.stands)));
    locks.add(not(circuits.section(toe.section()).vacant));
    locks.add(is(circuits.protections.of(this).fixed));
    for (TrafficCircuit line : circuits.linesLocking(toe.id())) {
      locks.add(not(all(line.idle())));
    }
    circuits.ownersNeeds(OwnersNeed.Of.SWITCH, toe.id()).forEach(need -> locks.add(not(need)));
    circuits.routesSetting(toe.id()).forEach(route -> locks.addAll(route.claimsOn(toe)));
    return locks;
  }
}
