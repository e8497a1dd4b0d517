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
 *
 * <p>A condition holds only where it is known to hold, and so does its opposite: {@code section x
 * is not occupied} asks for a vacant section, not for one that says nothing (49 CFR 236.5).
 */
final class Conditions {

  private final Circuits circuits;

  Conditions(Circuits circuits) {
    this.circuits = circuits;
  }

  /** True while the condition is known to hold. */
  Expression holds(Condition condition) {
    return expression(condition, true);
  }

  /** True while the condition is known not to hold. */
  Expression isKnownNotToHold(Condition condition) {
    return expression(condition, false);
  }

  private Expression expression(Condition condition, boolean wanted) {
    if (condition instanceof Condition.SectionIs section) {
      return occupancy(circuits.section(section.section()), section.occupancy(), wanted);
    }
    if (condition instanceof Condition.SwitchIs toe) {
      SwitchCircuit circuit = circuits.toe(toe.switchId());
      return SwitchCircuit.allLie(
          wanted ? toe.position() : toe.position().opposite(), circuits.ends(circuit.toe));
    }
    if (condition instanceof Condition.SignalIs signal) {
      return literal(shows(circuits.signal(signal.signal()), signal.aspect()), wanted);
    }
    if (condition instanceof Condition.IsProtected is) {
      return circuits.protections.holds(is, wanted);
    }
    if (condition instanceof Condition.RouteIsLocked route) {
      return literal(is(circuits.lockedBy(route.route())), wanted);
    }
    if (condition instanceof Condition.TrafficIs traffic) {
      return literal(is(circuits.lines.get(traffic.line()).lies(traffic.heading())), wanted);
    }
    if (condition instanceof Condition.DistrictIsTripped power) {
      return circuits.lineside.districts.get(power.district()).isTripped(wanted);
    }
    if (condition instanceof Condition.OpeningIs opening) {
      return circuits.lineside.openings.get(opening.opening()).holds(opening.state(), wanted);
    }
    if (condition instanceof Condition.CrossingIsWarning crossing) {
      return literal(is(circuits.lineside.crossings.get(crossing.crossing()).warns), wanted);
    }
    if (condition instanceof Condition.TimeIsBetween span) {
      return circuits.clock.holds(span, wanted);
    }
    if (condition instanceof Condition.Not opposite) {
      return expression(opposite.part(), !wanted);
    }
    boolean all = condition instanceof Condition.All;
    List<Condition> parts =
        all ? ((Condition.All) condition).parts() : ((Condition.Any) condition).parts();
    List<Expression> expressions = parts.stream().map(part -> expression(part, wanted)).toList();
    return all == wanted ? Expression.all(expressions) : Expression.any(expressions);
  }

  /** "Clear" asks for a steady section, so that a flicker never satisfies an owner's need. */
  private static Expression occupancy(
      SectionCircuit section, Condition.Occupancy occupancy, boolean wanted) {
    return switch (occupancy) {
      case CLEAR -> wanted ? is(section.vacant) : section.isOccupied();
      case OCCUPIED -> wanted ? section.isOccupied() : is(section.vacant);
      case UNKNOWN -> literal(not(section.known), wanted);
    };
  }

  private static Expression shows(SignalCircuit signal, String aspect) {
    if (aspect.equals(Signal.STOP)) {
      return not(signal.proceeds);
    }
    Variable shown = signal.shows().get(aspect);
    return shown == null ? Expression.never() : is(shown);
  }

  private static Expression literal(Expression expression, boolean wanted) {
    return wanted ? expression : not(expression);
  }
}
