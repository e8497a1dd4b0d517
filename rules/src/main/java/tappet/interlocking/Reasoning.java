package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.OptionalLong;
import java.util.Set;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.Stepper;
import tappet.network.Timers;
import tappet.network.Variable;

/** What equations follow from at this moment, and how long the times in them still run. */
final class Reasoning {

  private static final long NS_PER_SECOND = 1_000_000_000L;

  private final Circuits circuits;
  private final Stepper stepper;
  private final Timers timers;
  private final Explainer explainer;

  Reasoning(Circuits circuits, Stepper stepper, Timers timers, Explainer explainer) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.timers = timers;
    this.explainer = explainer;
  }

  /** Whether something is so now. */
  boolean is(Variable variable) {
    return stepper.value(variable);
  }

  /** What a variable follows from. */
  List<Explanation> of(Variable variable) {
    return explainer.reasonsOf(variable);
  }

  /** What a variable follows from, with the time since the start. */
  List<Explanation> of(Variable variable, long nowNs) {
    return withStartTime(of(variable), nowNs);
  }

  /** All that would have to change before a variable changes. */
  List<Explanation> keeping(Variable variable) {
    return explainer.whatKeeps(variable);
  }

  /** All that would have to change before a variable changes, with the time since the start. */
  List<Explanation> keeping(Variable variable, long nowNs) {
    return withStartTime(keeping(variable), nowNs);
  }

  /** The same of two variables, each reason once. */
  List<Explanation> keeping(Variable first, Variable second, long nowNs) {
    Set<Explanation> reasons = new LinkedHashSet<>(keeping(first, nowNs));
    reasons.addAll(keeping(second));
    return List.copyOf(reasons);
  }

  private List<Explanation> withStartTime(List<Explanation> others, long nowNs) {
    List<Explanation> reasons = new ArrayList<>(startTime(nowNs));
    reasons.addAll(others);
    return reasons;
  }

  /** How long nothing is granted yet after the start; empty where that is over. */
  List<Explanation> startTime(long nowNs) {
    return is(circuits.started)
        ? List.of()
        : List.of(timed("the time since the start still runs", circuits.starting, nowNs));
  }

  /** How long a cancelled route still waits; empty where it does not. */
  List<Explanation> cancelTime(RouteCircuit route, long nowNs) {
    if (!is(route.cancelling)) {
      return List.of();
    }
    String cancelled = route.cancelling.words().whenTrue();
    return List.of(
        timers.dueNs(route.cancelling).isPresent()
            ? timed(cancelled + " and its release time runs", route.cancelling, nowNs)
            : Explanation.fact(cancelled + " and waits for its sections to become vacant"));
  }

  /** How long an automatic signal has yet to be at Stop; empty where nobody waits for that. */
  List<Explanation> stopTime(AutomaticCircuit automatic, long nowNs) {
    return is(automatic.fallen)
        ? List.of(
            timed(
                Naming.SIGNAL + automatic.row.from() + " has not been at Stop for long enough yet",
                automatic.fallen,
                nowNs))
        : List.of();
  }

  /** A clause with the time that a variable still runs. */
  Explanation timed(String clause, Variable running, long nowNs) {
    OptionalLong due = timers.dueNs(running);
    if (due.isEmpty()) {
      return Explanation.fact(clause);
    }
    long seconds = Math.max(0, (due.getAsLong() - nowNs + NS_PER_SECOND - 1) / NS_PER_SECOND);
    return Explanation.fact(clause + ", " + seconds + " s left");
  }
}
