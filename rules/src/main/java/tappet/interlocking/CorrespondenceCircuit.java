package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * Whether a switch comes where it was sent (49 CFR 236.11). After the time a throw may take it is
 * tried again as often as the layout says; then a person must see to it.
 *
 * <p>It is only tried again on the order it has not carried out yet, while nothing stands on it and
 * no train may have accepted a signal over it: a switch that leaves its place by itself is never
 * moved by itself (49 CFR 236.307).
 */
final class CorrespondenceCircuit {

  /** It has not come where it was sent, and is not tried again. */
  final Variable alarm;

  /** True for one tick when it is to be sent once more. */
  final Variable triesAgain;

  private final int tries;
  private final Variable anew;
  private final Variable disagrees;
  private final Variable underWay;
  private final Variable mayTryAgain;
  private final List<Variable> waits = new ArrayList<>();
  private final List<Variable> over = new ArrayList<>();
  private final List<Variable> again = new ArrayList<>();
  private final List<Variable> hasTriedAgain = new ArrayList<>();

  CorrespondenceCircuit(Switch lead, NetworkBuilder network) {
    tries = lead.working().tries();
    String name = Naming.toe(lead);
    String role = "switch " + lead.id() + ": ";
    alarm =
        network.latch(
            role + "out of correspondence",
            Words.fact(name + " is out of correspondence", name + " is in correspondence again"));
    triesAgain = network.equation(role + "tries again", Words.through());
    anew = network.equation(role + "sent anew", Words.through());
    disagrees = network.equation(role + "disagrees", Words.through());
    underWay = network.latch(role + "under way", Words.through());
    mayTryAgain = network.equation(role + "may be tried again", Words.through());
    for (int number = 1; number <= tries; number++) {
      String attempt = role + "try " + number;
      Variable waiting = network.equation(attempt + " waits", Words.through());
      waits.add(waiting);
      over.add(network.timer(attempt, Words.through(), waiting, lead.throwTime()));
      if (number < tries) {
        String told =
            "%s has not come where it was sent; it is sent once more (%d of %d)"
                .formatted(name, number + 1, tries);
        again.add(network.equation(attempt + " is over", Words.fact(told, "")));
        hasTriedAgain.add(network.latch(attempt + " was over", Words.through()));
      }
    }
  }

  /** By number of the try that is over: it is sent once more. */
  List<Variable> triedAgain() {
    return again;
  }

  void define(MotorCircuit motor, List<SwitchCircuit> ends, Circuits circuits) {
    NetworkBuilder network = circuits.network;
    network.define(disagrees, disagreement(motor, ends));
    network.define(
        anew,
        all(
            any(is(motor.sent(Position.NORMAL)), is(motor.sent(Position.REVERSE))),
            not(triesAgain)));
    network.define(underWay, is(anew), all(not(anew), not(disagrees)));
    network.define(mayTryAgain, all(tryingAgainIsSafe(motor, ends, circuits)));
    for (int index = 0; index < tries; index++) {
      network.define(waits.get(index), waiting(index));
    }
    for (int index = 0; index < again.size(); index++) {
      defineAgain(index, network);
    }
    network.define(triesAgain, any(again.stream().<Expression>map(Expression::is).toList()));
    network.define(alarm, givenUp(), not(disagrees));
  }

  /** Where nothing detects a switch, nothing can disagree. */
  private static Expression disagreement(MotorCircuit motor, List<SwitchCircuit> ends) {
    List<Expression> disagreements = new ArrayList<>();
    for (Position position : Position.values()) {
      List<Expression> elsewhere = new ArrayList<>();
      ends.stream()
          .filter(end -> end.toe.isDetected())
          .forEach(end -> elsewhere.add(not(end.lies(position))));
      disagreements.add(all(is(motor.called(position)), any(elsewhere)));
    }
    return any(disagreements);
  }

  /** Each order starts the count anew. */
  private Expression waiting(int index) {
    return index == 0
        ? all(is(disagrees), not(anew))
        : all(is(over.get(index - 1)), is(disagrees), not(anew));
  }

  private void defineAgain(int index, NetworkBuilder network) {
    Variable ended = over.get(index);
    network.define(
        again.get(index),
        all(is(ended), not(hasTriedAgain.get(index)), is(mayTryAgain), not(alarm)));
    network.define(hasTriedAgain.get(index), is(ended), not(ended));
  }

  private Expression givenUp() {
    List<Expression> ends = new ArrayList<>();
    ends.add(is(over.get(tries - 1)));
    over.forEach(ended -> ends.add(all(is(ended), not(mayTryAgain))));
    return any(ends);
  }

  private List<Expression> tryingAgainIsSafe(
      MotorCircuit motor, List<SwitchCircuit> ends, Circuits circuits) {
    List<Expression> safe = new ArrayList<>();
    safe.add(is(underWay));
    safe.add(is(motor.movable));
    safe.add(Expression.not(SwitchCircuit.trainMayCome(ends, circuits)));
    return safe;
  }
}
