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
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/** What the protection of people asks of one switch, and what it allows the holder of a permit. */
final class ProtectedSwitch {

  final SwitchCircuit toe;

  /** The blocking of its control. */
  final ProtectionCircuit blocking;

  /** It does not move: it has come to lie, has failed to, or was never sent. */
  final Variable settled;

  /** People at work must find it as it lies: nobody may send it anywhere, not even the holder. */
  final Variable fixed;

  /** It stays as it lies, unless the holder of a permit throws it. */
  final Variable stays;

  private final Variable lockedForHolder;
  private final Map<Position, Variable> askedByHolder = new EnumMap<>(Position.class);
  private final Map<Position, Variable> blockedForHolder = new EnumMap<>(Position.class);

  ProtectedSwitch(SwitchCircuit toe, NetworkBuilder network) {
    this.toe = toe;
    String name = Naming.toe(toe.toe);
    String role = "switch " + toe.toe.id() + ": ";
    blocking =
        new ProtectionCircuit(
            role + "blocked", Words.fact(name + " is blocked", name + " is not blocked"), network);
    settled =
        network.equation(
            role + "settled", Words.fact(name + " stands still", name + " may still be moving"));
    fixed = network.equation(role + "fixed", Words.through());
    stays = network.equation(role + "stays", Words.through());
    lockedForHolder = network.equation(role + "locked for the permit's holder", Words.through());
    for (Position position : Position.values()) {
      String word = position.word();
      askedByHolder.put(
          position,
          network.pulse(role + "thrown " + word + " by the permit's holder", Words.through()));
      blockedForHolder.put(
          position,
          network.equation(
              role + "blocked from " + word + " for the permit's holder",
              Words.because(name + " cannot be thrown " + word, name + " can be thrown " + word)));
    }
  }

  /** The pulse by which the holder of a permit throws it. */
  Variable askedByHolder(Position position) {
    return askedByHolder.get(position);
  }

  /** Whether the holder of a permit must not throw it there, besides what locks it for nobody. */
  Variable blockedForHolder(Position position) {
    return blockedForHolder.get(position);
  }

  /** What locks it for the holder of a permit. */
  Variable lockedForHolder() {
    return lockedForHolder;
  }

  /** The holder of a permit on all of its ends throws it, and may. */
  Expression sentByHolder(Position position, List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> leave = new ArrayList<>();
    leave.add(is(askedByHolder(position)));
    leave.add(not(blockedForHolder(position)));
    for (SwitchCircuit end : ends) {
      ProtectedSwitch people = circuits.protections.of(end);
      leave.add(is(people.permit(circuits)));
      leave.add(not(people.fixed));
    }
    return all(leave);
  }

  /**
   * @param locks what locks the switch besides a permit
   * @param flags the sections whose blue flag wants it lined away
   */
  void define(List<Expression> locks, List<ProtectedSection> flags, Circuits circuits) {
    NetworkBuilder network = circuits.network;
    ProtectedSection own = circuits.protections.of(circuits.section(toe.toe.section()));
    List<Expression> fixing = new ArrayList<>();
    fixing.add(is(blocking.stands));
    fixing.add(is(own.blocking.stands));
    fixing.add(is(own.flag.stands));
    fixing.add(is(circuits.protections.inDoubt));
    flags.forEach(section -> fixing.add(is(section.flag.stands)));

    network.define(fixed, any(fixing));
    network.define(stays, any(is(fixed), is(own.permit.stands)));
    network.define(settled, standsStill());
    network.define(lockedForHolder, any(locks));
    for (Position position : Position.values()) {
      network.define(
          blockedForHolder(position),
          toe.blockedBy(is(lockedForHolder), is(fixed), position, circuits));
    }
    blocking.define(blockingDemands(circuits), circuits);
  }

  private Variable permit(Circuits circuits) {
    return circuits.protections.permitOn(toe.toe.section());
  }

  private Expression standsStill() {
    Expression hasComeToLie = any(is(toe.lies(Position.NORMAL)), is(toe.lies(Position.REVERSE)));
    return toe.motor
        .map(
            motor ->
                any(
                    any(is(toe.inPlace(Position.NORMAL)), is(toe.inPlace(Position.REVERSE))),
                    is(motor.outOfCorrespondence()),
                    all(not(motor.called(Position.NORMAL)), not(motor.called(Position.REVERSE)))))
        .orElse(hasComeToLie);
  }

  private List<Expression> blockingDemands(Circuits circuits) {
    List<Expression> demands = new ArrayList<>();
    demands.add(is(circuits.started));
    demands.add(not(blocking.stands));
    demands.add(is(settled));
    circuits.routesSetting(toe.toe.id()).forEach(route -> demands.add(not(route.locked)));
    return demands;
  }
}
