package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import tappet.layout.Button;
import tappet.layout.Lamp;
import tappet.network.Explainer;
import tappet.network.Explanation;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.ButtonRequest;
import tappet.rules.ButtonRequest.Asked;

/**
 * A button on the fascia and what it asks. A press counts once, when the button has been pressed
 * for as long as contacts bounce, and only where it was known to be released before: one that is
 * found pressed at a start, or after its board was away, asks nothing (common practice, no source).
 */
final class ButtonCircuit implements LinesideCircuit {

  final Button button;
  final ButtonRequest request;

  /** What was asked has been granted. */
  final Variable granted;

  /** What was asked has been refused. */
  final Variable refused;

  private final Indication contact;
  private final Variable found;
  private final Map<Variable, Asked> asks = new LinkedHashMap<>();
  private final Map<String, Variable> lamps = new LinkedHashMap<>();

  ButtonCircuit(
      Button button, ButtonRequest request, Map<String, Lamp> lamps, NetworkBuilder network) {
    this.button = button;
    this.request = request;
    String name = Naming.device(button);
    String role = button.key() + ": ";
    contact = new Indication(role, name, "pressed", "released", network);
    found = network.pulse(role + "found", Words.through());
    granted = network.pulse(role + "granted", Words.through());
    refused = network.pulse(role + "refused", Words.through());
    request.onPress().ifPresent(asked -> asks.put(counted(role, true, network), asked));
    request.onRelease().ifPresent(asked -> asks.put(counted(role, false, network), asked));
    request.granted().ifPresent(id -> lightFor(lamps.get(id), granted, refused, network));
    request.refused().ifPresent(id -> lightFor(lamps.get(id), refused, granted, network));
  }

  /** True for one tick when a press, or a release, counts. */
  private Variable counted(String role, boolean pressed, NetworkBuilder network) {
    String word = pressed ? "press" : "release";
    Variable ready = network.latch(role + "ready for a " + word, Words.through());
    Variable steady = network.equation(role + word + " bounces", Words.through());
    network.define(steady, all(is(ready), contact.isOne(pressed)));
    Variable longEnough =
        network.timer(role + word + " time", Words.through(), steady, button.steady());
    Variable counted =
        network.equation(role + word + " counts", Words.through(), all(is(steady), is(longEnough)));
    network.define(
        ready, contact.isOne(!pressed), any(not(contact.known()), is(found), is(counted)));
    return counted;
  }

  private void lightFor(Lamp lamp, Variable told, Variable opposite, NetworkBuilder network) {
    String name = Naming.device(lamp);
    Variable lit =
        network.latch(lamp.key() + ": lit", Words.fact(name + " is lit", name + " is dark"));
    Variable longEnough =
        network.timer(lamp.key() + ": time", Words.through(), lit, request.shown());
    network.define(lit, is(told), any(is(opposite), is(longEnough)));
    lamps.put(lamp.id(), lit);
  }

  /** What is asked by a variable that becomes true. */
  Map<Variable, Asked> asks() {
    return asks;
  }

  /** By lamp: whether it is to be lit. */
  Map<String, Variable> lamps() {
    return lamps;
  }

  /**
   * @param happened whether it was just pressed or released, and not only found so
   */
  void lay(Optional<Boolean> isPressed, boolean happened, Stepper stepper) {
    contact.lay(isPressed, stepper);
    if (!happened) {
      stepper.pulse(found);
    }
  }

  @Override
  public void define(Circuits circuits) {}

  @Override
  public Explanation explain(Stepper stepper, Explainer explainer) {
    List<Explanation> asked =
        asks.values().stream()
            .map(ask -> Explanation.fact("it asks '" + ask.sentence() + "'"))
            .toList();
    return new Explanation(contact.words(stepper), asked);
  }
}
