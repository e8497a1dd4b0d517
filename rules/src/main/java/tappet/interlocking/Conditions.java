package tappet.interlocking;

import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.List;
import tappet.layout.Signal;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.sentence.Condition;

/**
 * The owner's conditions as expressions over the circuits. Their names have been checked before.
 */
final class Conditions {

  private final Circuits circuits;

  Conditions(Circuits circuits) {
    this.circuits = circuits;
  }

  Expression expression(Condition condition) {
    if (condition instanceof Condition.SectionIs section) {
      return occupancy(circuits.section(section.section()), section.occupancy());
    }
    if (condition instanceof Condition.SwitchIs toe) {
      return is(circuits.toe(toe.switchId()).lies(toe.position()));
    }
    if (condition instanceof Condition.SignalIs signal) {
      return shows(circuits.signal(signal.signal()), signal.aspect());
    }
    if (condition instanceof Condition.RouteIsLocked route) {
      return is(circuits.route(route.route()).locked);
    }
    if (condition instanceof Condition.Not opposite) {
      return not(expression(opposite.part()));
    }
    if (condition instanceof Condition.All all) {
      return Expression.all(expressions(all.parts()));
    }
    return Expression.any(expressions(((Condition.Any) condition).parts()));
  }

  private List<Expression> expressions(List<Condition> parts) {
    return parts.stream().map(this::expression).toList();
  }

  /** "Clear" asks for a steady section, so that a flicker never satisfies an owner's need. */
  private static Expression occupancy(SectionCircuit section, Condition.Occupancy occupancy) {
    return switch (occupancy) {
      case CLEAR -> is(section.vacant);
      case OCCUPIED -> is(section.occupied);
      case UNKNOWN -> not(section.known);
    };
  }

  private static Expression shows(SignalCircuit signal, String aspect) {
    if (aspect.equals(Signal.STOP)) {
      return not(signal.proceeds);
    }
    Variable shown = signal.shows().get(aspect);
    return shown == null ? Expression.never() : is(shown);
  }
}
