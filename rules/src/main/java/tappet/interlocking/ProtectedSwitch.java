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

  /** The holder of the permit throws it, and may. */
  Expression sentByHolder(Position position, Circuits circuits) {
    return all(
        is(askedByHolder(position)),
        is(permit(circuits)),
        not(blockedForHolder(position)),
        not(fixed));
  }

  /**
   * A switch that nobody has called since the start keeps the position in which people at work have
   * it: it is taken for called to where it is detected. Nothing moves by that.
   */
  Expression keptAsFound(Position position) {
    return all(
        is(stays),
        is(toe.lies(position)),
        not(toe.called(position)),
        not(toe.called(position.opposite())));
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
    network.define(settled, any(hasComeToLie(), is(toe.outOfCorrespondence), neverSent()));
    network.define(lockedForHolder, any(locks));
    for (Position position : Position.values()) {
      network.define(
          blockedForHolder(position),
          toe.blockedBy(is(lockedForHolder), fixed, position, circuits));
    }
    blocking.define(blockingDemands(circuits), circuits);
  }

  private Variable permit(Circuits circuits) {
    return circuits.protections.of(circuits.section(toe.toe.section())).permit.stands;
  }

  private Expression hasComeToLie() {
    return any(is(toe.inPlace(Position.NORMAL)), is(toe.inPlace(Position.REVERSE)));
  }

  private Expression neverSent() {
    return all(not(toe.called(Position.NORMAL)), not(toe.called(Position.REVERSE)));
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
