package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * A switch worked by the dispatcher.
 *
 * <p>The position it is called to is stored: no equation has a default position, so that the loss
 * of a lock or of a route never moves anything. A call is no evidence of position (49 CFR 236.7):
 * signals ask for call and detection together.
 */
final class SwitchCircuit {

  final Switch toe;
  final Variable locked;
  final Variable outOfCorrespondence;
  private final Map<Position, Variable> detected = new EnumMap<>(Position.class);
  private final Map<Position, Variable> lies = new EnumMap<>(Position.class);
  private final Map<Position, Variable> asked = new EnumMap<>(Position.class);
  private final Map<Position, Variable> blocked = new EnumMap<>(Position.class);
  private final Map<Position, Variable> sent = new EnumMap<>(Position.class);
  private final Map<Position, Variable> called = new EnumMap<>(Position.class);
  private final Map<Position, Variable> inPlace = new EnumMap<>(Position.class);

  SwitchCircuit(Switch toe, NetworkBuilder network) {
    this.toe = toe;
    String name = Naming.toe(toe);
    String role = "switch " + toe.id() + ": ";

    for (Position position : Position.values()) {
      String word = position.word();
      detected.put(position, network.input(role + "detected " + word, Words.through()));
      lies.put(
          position,
          network.equation(
              role + "lies " + word,
              Words.fact(name + " lies " + word, name + " is not detected " + word)));
      asked.put(position, network.pulse(role + "thrown " + word, Words.through()));
      called.put(position, network.latch(role + "called " + word, Words.through()));
      sent.put(position, network.equation(role + "sent " + word, Words.through()));
      inPlace.put(
          position,
          network.equation(
              role + "in place " + word,
              Words.fact(name + " lies " + word, name + " is not detected " + word)));
      blocked.put(
          position,
          network.equation(
              role + "blocked from " + word,
              Words.because(name + " cannot be thrown " + word, name + " can be thrown " + word)));
    }
    locked =
        network.equation(role + "locked", Words.joining(name + " is locked", name + " is free"));
    outOfCorrespondence = correspondenceAlarm(role, name, network);
  }

  Variable detected(Position position) {
    return detected.get(position);
  }

  Variable lies(Position position) {
    return lies.get(position);
  }

  /** The pulse by which a person throws it. */
  Variable asked(Position position) {
    return asked.get(position);
  }

  /** True for one tick when the field is to be told to move it. */
  Variable sent(Position position) {
    return sent.get(position);
  }

  /**
   * Whether it would have to move to come to that position and must not: it is locked and called
   * elsewhere, or something may stand on it and it does not lie there.
   */
  Variable blocked(Position position) {
    return blocked.get(position);
  }

  /** What it was told last. */
  Variable called(Position position) {
    return called.get(position);
  }

  /** Called to the position and detected there. */
  Variable inPlace(Position position) {
    return inPlace.get(position);
  }

  void define(Circuits circuits) {
    NetworkBuilder network = circuits.network;
    Variable vacant = circuits.section(toe.section()).vacant;
    ProtectedSwitch people = circuits.protections.of(this);
    network.define(locked, any(any(locksOf(circuits)), is(people.stays)));
    for (Position position : Position.values()) {
      Position other = position.opposite();
      network.define(lies.get(position), all(is(detected(position)), not(detected(other))));
      network.define(inPlace.get(position), all(is(called.get(position)), is(lies(position))));
      network.define(
          blocked.get(position), blockedBy(is(locked), people.stays, position, circuits));
      network.define(
          sent.get(position),
          all(
              is(vacant),
              all(circuits.noEmergency()),
              any(
                  all(not(people.stays), any(reasonsToMove(position, circuits))),
                  people.sentByHolder(position, circuits))));
      network.define(
          called.get(position),
          any(is(sent(position)), people.keptAsFound(position)),
          is(sent(other)));
    }
  }

  /**
   * It would have to move and is locked, or it does not lie where it is called and something may
   * stand on it or people have it as it lies.
   */
  Expression blockedBy(Expression locks, Variable stays, Position position, Circuits circuits) {
    return any(
        all(not(called.get(position)), locks),
        all(
            is(called.get(position)),
            not(lies(position)),
            any(not(circuits.section(toe.section()).vacant), is(stays))));
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
    for (RouteCircuit route : circuits.routesSetting(toe.id())) {
      if (route.row.switches().containsKey(toe.id())) {
        locks.add(is(route.holds(toe.section())));
      }
      if (route.row.flank().containsKey(toe.id())) {
        locks.add(is(route.locked));
      }
    }
    return locks;
  }

  /**
   * A person throws it, or a route is granted. It may be sent once more to where it is called
   * already: that moves nothing that lies right.
   */
  private List<Expression> reasonsToMove(Position position, Circuits circuits) {
    List<Expression> reasons = new ArrayList<>();
    reasons.add(all(is(asked(position)), not(blocked(position))));
    for (RouteCircuit route : circuits.routesSetting(toe.id())) {
      if (route.row.switches().get(toe.id()) == position
          || route.row.flank().get(toe.id()) == position) {
        reasons.add(is(route.granted));
      }
    }
    return reasons;
  }

  /**
   * 49 CFR 236.11: a disagreement of call and detection is told, after the time a throw may take.
   */
  private Variable correspondenceAlarm(String role, String name, NetworkBuilder network) {
    List<Expression> disagreements = new ArrayList<>();
    for (Position position : Position.values()) {
      disagreements.add(all(is(called.get(position)), not(inPlace(position))));
    }
    Variable disagrees = network.equation(role + "disagrees", Words.through(), any(disagreements));
    return network.timer(
        role + "throw time",
        Words.fact(name + " is out of correspondence", name + " is in correspondence"),
        disagrees,
        toe.throwTime());
  }
}
