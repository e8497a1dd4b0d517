package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Control;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * What moves a switch and all ends that move with it: who asks, when it is sent, and where it is
 * called to.
 */
final class MotorCircuit {

  private final Switch lead;

  /** Every end is vacant, and no emergency stands. */
  final Variable movable;

  /** A person asks at the control beside the track, and is refused. */
  final Variable refused;

  private final CorrespondenceCircuit correspondence;
  private final Map<Position, Variable> asked = new EnumMap<>(Position.class);
  private final Map<Position, Variable> sent = new EnumMap<>(Position.class);
  private final Map<Position, Variable> called = new EnumMap<>(Position.class);

  /** The same as a fact of its own: a route asks that it be so, and whoever locks it does not. */
  private final Map<Position, Variable> standsCalled = new EnumMap<>(Position.class);

  /**
   * @param lead the switch whose number the ends share
   */
  MotorCircuit(Switch lead, NetworkBuilder network) {
    this.lead = lead;
    String role = "switch " + lead.id() + ": ";
    for (Position position : Position.values()) {
      String word = position.word();
      asked.put(position, network.pulse(role + "thrown " + word, Words.through()));
      Words call = wordsOfCall(word);
      called.put(
          position, network.latch(role + "called " + word, isLocal() ? call : Words.through()));
      standsCalled.put(
          position,
          network.equation(role + "stands called " + word, call, is(called.get(position))));
      sent.put(position, network.equation(role + "sent " + word, Words.through()));
    }
    movable = network.equation(role + "movable", Words.through());
    refused =
        network.equation(
            role + "refused",
            Words.fact(Naming.toe(lead) + " stays, though its control asks: it is locked", ""));
    correspondence = new CorrespondenceCircuit(lead, network);
  }

  private Words wordsOfCall(String word) {
    String name = Naming.toe(lead);
    return Words.last(name + " has been sent " + word, name + " has not been sent " + word);
  }

  private boolean isLocal() {
    return lead.control() == Control.LOCAL;
  }

  /** The pulse by which a person throws it. */
  Variable asked(Position position) {
    return asked.get(position);
  }

  /** True for one tick when the field is to be told to move it. */
  Variable sent(Position position) {
    return sent.get(position);
  }

  /** Where it was sent last; neither before it has been sent. */
  Variable called(Position position) {
    return called.get(position);
  }

  /** It has not come where it was sent, and is not tried again. */
  Variable outOfCorrespondence() {
    return correspondence.alarm;
  }

  /** By number of the try that is over: it is sent once more. */
  List<Variable> triedAgain() {
    return correspondence.triedAgain();
  }

  /**
   * That no call speaks against a position. A route has called a dispatcher's switch itself; one
   * that is thrown beside the track must only not be on its way elsewhere.
   */
  Expression callsFor(Position position) {
    return isLocal() ? not(called(position.opposite())) : is(standsCalled.get(position));
  }

  void define(List<SwitchCircuit> ends, Circuits circuits) {
    NetworkBuilder network = circuits.network;
    network.define(movable, all(SwitchCircuit.vacant(ends, circuits), all(circuits.noEmergency())));
    for (Position position : Position.values()) {
      network.define(
          sent(position),
          all(
              is(movable),
              any(
                  all(
                      not(SwitchCircuit.stays(ends, circuits)),
                      any(reasonsToMove(position, ends, circuits))),
                  circuits
                      .protections
                      .of(circuits.toe(lead.id()))
                      .sentByHolder(position, ends, circuits))));
      network.define(
          called(position),
          any(is(sent(position)), keptAsFound(position, ends, circuits)),
          is(sent(position.opposite())));
    }
    network.define(refused, isLocal() ? all(asks(), stays(circuits)) : never());
    correspondence.define(this, ends, circuits);
  }

  /**
   * A switch that nobody has called since the start keeps the position in which people at work have
   * it: it is taken for called to where it is detected. Nothing moves by that.
   */
  private Expression keptAsFound(Position position, List<SwitchCircuit> ends, Circuits circuits) {
    return all(
        SwitchCircuit.stays(ends, circuits),
        SwitchCircuit.allLie(position, ends),
        not(called(position)),
        not(called(position.opposite())));
  }

  private Expression asks() {
    return any(is(asked(Position.NORMAL)), is(asked(Position.REVERSE)));
  }

  private Expression stays(Circuits circuits) {
    return any(is(circuits.toe(lead.id()).locked), not(movable));
  }

  /**
   * A person throws it, or a route is granted. It may be sent once more to where it is called
   * already: that moves nothing that lies right.
   */
  private List<Expression> reasonsToMove(
      Position position, List<SwitchCircuit> ends, Circuits circuits) {
    SwitchCircuit toe = circuits.toe(lead.id());
    Expression onceMore = all(is(correspondence.triesAgain), is(called(position)));
    if (isLocal()) {
      return List.of(all(is(asked(position)), not(toe.locked)), onceMore);
    }
    List<Expression> reasons = new ArrayList<>();
    reasons.add(onceMore);
    reasons.add(all(is(asked(position)), not(toe.blocked(position))));
    for (SwitchCircuit end : ends) {
      circuits.routesSetting(end.toe.id()).stream()
          .filter(route -> route.positionOf(end.toe).equals(Optional.of(position)))
          .forEach(route -> reasons.add(is(route.granted)));
    }
    return reasons;
  }
}
