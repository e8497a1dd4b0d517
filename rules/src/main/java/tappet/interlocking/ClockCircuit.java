package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.sentence.Condition.TimeIsBetween;

/** The fast clock, as far as owner's conditions ask for it. */
final class ClockCircuit {

  private final NetworkBuilder network;
  private final Variable known;
  private final Map<String, TimeIsBetween> spans = new LinkedHashMap<>();
  private final Map<String, Variable> within = new LinkedHashMap<>();

  ClockCircuit(NetworkBuilder network) {
    this.network = network;
    this.known =
        network.input(
            "clock: known", Words.fact("the fast clock is known", "the fast clock is not known"));
  }

  /** True while the time is known to be within the span, or known not to be. */
  Expression holds(TimeIsBetween span, boolean wanted) {
    Variable inside =
        within.computeIfAbsent(
            span.words(),
            words -> network.input("clock: " + words, Words.fact(words, negated(words))));
    spans.putIfAbsent(span.words(), span);
    return all(is(known), wanted ? is(inside) : not(inside));
  }

  /** Lays the time on; empty where it is not known. */
  void lay(OptionalInt minuteOfDay, Stepper stepper) {
    stepper.set(known, minuteOfDay.isPresent());
    within.forEach(
        (words, inside) ->
            stepper.set(
                inside,
                minuteOfDay.isPresent() && spans.get(words).contains(minuteOfDay.getAsInt())));
  }

  private static String negated(String words) {
    return words.replaceFirst("time is ", "time is not ");
  }
}
