package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import tappet.layout.Position;
import tappet.layout.Switch;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;

/**
 * Stands in for the detection that a switch has not: some time after it was sent it is taken to lie
 * there. Nothing is assumed before it has been sent once, after its board was lost, or after the
 * power was cut while it may have been moving (H.8).
 */
final class AssumedPosition {

  /** Its board or connection is lost: nobody can tell whether it followed. */
  final Variable forgotten;

  /** It has not been sent, or may not have followed since. */
  final Variable unknown;

  private final Map<Position, Variable> moving = new EnumMap<>(Position.class);
  private final Map<Position, Variable> lies = new EnumMap<>(Position.class);

  AssumedPosition(Switch toe, Duration time, NetworkBuilder network) {
    String role = "switch " + toe.id() + ": ";
    forgotten = network.pulse(role + "forgotten", Words.through());
    unknown = network.latchInitiallyTrue(role + "unknown", Words.through());
    for (Position position : Position.values()) {
      String word = position.word();
      Variable sent = network.equation(role + "is to come to lie " + word, Words.through());
      moving.put(position, sent);
      lies.put(position, network.timer(role + "time to " + word, Words.through(), sent, time));
    }
  }

  Variable lies(Position position) {
    return lies.get(position);
  }

  void define(MotorCircuit motor, Circuits circuits) {
    NetworkBuilder network = circuits.network;
    network.define(
        unknown,
        any(is(forgotten), is(circuits.emergencies.get(Emergency.OFF).stands)),
        any(is(motor.sent(Position.NORMAL)), is(motor.sent(Position.REVERSE))));
    moving.forEach(
        (position, sent) -> network.define(sent, all(is(motor.called(position)), not(unknown))));
  }
}
