package tappet.proof.published;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import tappet.network.Expression;
import tappet.network.Variable;

/**
 * The published equations of the tram junction (F. Zeyda, J. Ouy, S. Foster, A. Cavalcanti,
 * Formalised Cosimulation Models, SEFM 2017; theory Railways_Impl), read from the published file.
 * One cycle sets relays one after the other, clears them, and then sets switches and signals by the
 * relays as they are by now.
 */
final class RelayEquations {

  private static final List<String> SET_ORDER = List.of("R1", "R2", "R4", "R3", "R5");

  private final Machine machine;
  private final JsonNode equations;
  private final Expression cycle;

  /** By relay, track, request or switch: its value at this point of the cycle. */
  private final Map<String, Expression> values = new LinkedHashMap<>();

  /** By switch: that it lies straight. */
  private final Map<String, Variable> straight = new LinkedHashMap<>();

  /** By signal: that it shows proceed. */
  private final Map<String, Variable> proceeds = new LinkedHashMap<>();

  /** By relay: that it is set. */
  private final Map<String, Variable> relays = new LinkedHashMap<>();

  private final Function<String, Expression> told;

  /**
   * @param cycle when a cycle runs
   * @param told the value of a published input: {@code CDV4} is true when track 4 is clear, {@code
   *     TC4} when a driver asks
   */
  RelayEquations(
      JsonNode equations, Machine machine, Expression cycle, Function<String, Expression> told) {
    this.equations = equations;
    this.machine = machine;
    this.cycle = cycle;
    this.told = told;
    SET_ORDER.stream().sorted().forEach(this::declare);
    SET_ORDER.forEach(this::setRelay);
    SET_ORDER.stream().sorted().forEach(this::clearRelay);
    equations.get("switches").properties().forEach(toe -> setSwitch(toe.getKey(), text(toe)));
    equations
        .get("signals_proceed")
        .properties()
        .forEach(signal -> setSignal(signal.getKey(), text(signal)));
  }

  Variable relay(String relay) {
    return relays.get(relay);
  }

  /**
   * That a switch lies straight; the counts of states in its file are of switches that begin so.
   */
  Variable straight(String toe) {
    return straight.get(toe);
  }

  /** That a switch is told to lie straight by the cycle that runs. */
  Expression toldStraight(String toe) {
    return values.get(toe + "=S");
  }

  /** That a signal shows proceed. */
  Variable proceeds(String signal) {
    return proceeds.get(signal);
  }

  private static String text(Map.Entry<String, JsonNode> equation) {
    return equation.getValue().asText();
  }

  private void declare(String relay) {
    relays.put(relay, machine.latch("relay " + relay));
    values.put(relay, is(relays.get(relay)));
  }

  private void setRelay(String relay) {
    Expression set = read(equations.get("set").get(relay).asText());
    name(relay, "relay " + relay + ": after it is set", any(is(relays.get(relay)), set));
  }

  private void clearRelay(String relay) {
    Expression clear = read(equations.get("clear").get(relay).asText());
    name(relay, "relay " + relay + ": after it is cleared", all(values.get(relay), not(clear)));
    machine.take(relays.get(relay), cycle, values.get(relay));
  }

  /** {@code S if R3|R5 else D}, or one position for ever. */
  private void setSwitch(String toe, String equation) {
    String[] words = equation.split(" ", -1);
    boolean isStraight = words[0].equals("S");
    Expression first = words.length == 1 ? Expression.always() : read(words[2]);
    name(toe + "=S", "switch " + toe + ": straight now", isStraight ? first : not(first));
    values.put(toe + "=D", not(values.get(toe + "=S")));
    straight.put(toe, machine.latchInitiallyTrue("switch " + toe + ": straight"));
    machine.take(straight.get(toe), cycle, values.get(toe + "=S"));
  }

  private void setSignal(String signal, String equation) {
    proceeds.put(signal, machine.latch("signal " + signal + ": shows proceed"));
    machine.take(proceeds.get(signal), cycle, read(equation));
  }

  private void name(String published, String variable, Expression meaning) {
    values.put(published, is(machine.equation(variable, meaning)));
  }

  /** Alternatives of parts that must all hold: {@code (R1 & SW1=S) | (R2 & !TC4)}. */
  private Expression read(String equation) {
    return any(
        Arrays.stream(equation.replaceAll("[() ]", "").split("\\|", -1))
            .map(way -> all(Arrays.stream(way.split("&", -1)).map(this::part).toList()))
            .toList());
  }

  private Expression part(String part) {
    if (part.startsWith("!")) {
      return not(part(part.substring(1)));
    }
    Expression known = values.get(part);
    return known == null ? told.apply(part) : known;
  }
}
