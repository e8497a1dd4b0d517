package tappet.interlocking;

import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.List;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.network.Expression;
import tappet.network.Variable;
import tappet.sentence.Condition;

/**
 * The owner's conditions as expressions over the circuits. Their names have been checked before.
 *
 * <p>What is not known proves nothing, neither a condition nor its opposite: "not occupied" asks
 * for a section that is known clear, and "not reverse" for a switch that is detected normal.
 */
final class Conditions {

  private final Circuits circuits;

  Conditions(Circuits circuits) {
    this.circuits = circuits;
  }

  /** The condition is proved. */
  Expression expression(Condition condition) {
    return proof(condition, true);
  }

  private Expression proof(Condition condition, boolean so) {
    if (condition instanceof Condition.SectionIs section) {
      return occupancy(circuits.section(section.section()), section.occupancy(), so);
    }
    if (condition instanceof Condition.SwitchIs toe) {
      Position position = so ? toe.position() : toe.position().opposite();
      return is(circuits.toe(toe.switchId()).lies(position));
    }
    if (condition instanceof Condition.SignalIs signal) {
      return when(so, shows(circuits.signal(signal.signal()), signal.aspect()));
    }
    if (condition instanceof Condition.RouteIsLocked route) {
      return when(so, is(circuits.route(route.route()).locked));
    }
    if (condition instanceof Condition.Not opposite) {
      return proof(opposite.part(), !so);
    }
    if (condition instanceof Condition.All all) {
      List<Expression> parts = proofs(all.parts(), so);
      return so ? Expression.all(parts) : Expression.any(parts);
    }
    List<Expression> parts = proofs(((Condition.Any) condition).parts(), so);
    return so ? Expression.any(parts) : Expression.all(parts);
  }

  private List<Expression> proofs(List<Condition> parts, boolean so) {
    return parts.stream().map(part -> proof(part, so)).toList();
  }

  /** "Clear" asks for a steady section, so that a flicker never satisfies an owner's need. */
  private static Expression occupancy(
      SectionCircuit section, Condition.Occupancy occupancy, boolean so) {
    return switch (occupancy) {
      case CLEAR -> so ? is(section.vacant) : is(section.occupied);
      case OCCUPIED -> so ? is(section.occupied) : is(section.vacant);
      case UNKNOWN -> when(!so, is(section.known));
    };
  }

  private static Expression shows(SignalCircuit signal, String aspect) {
    if (aspect.equals(Signal.STOP)) {
      return not(signal.proceeds);
    }
    Variable shown = signal.shows().get(aspect);
    return shown == null ? Expression.never() : is(shown);
  }

  private static Expression when(boolean so, Expression expression) {
    return so ? expression : not(expression);
  }
}
