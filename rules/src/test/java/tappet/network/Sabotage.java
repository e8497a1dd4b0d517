package tappet.network;

import java.util.LinkedHashMap;
import java.util.Map;

/** Makes faulty networks for tests, as a wrong compiler might. */
public final class Sabotage {

  private Sabotage() {}

  /** The same network with another right-hand side for one of its equations. */
  public static Network of(Network network, String equation, Expression meaning) {
    Map<Variable, Expression> equations = new LinkedHashMap<>(network.equations());
    if (equations.replace(network.named(equation), meaning) == null) {
      throw new IllegalArgumentException("'" + equation + "' is no equation");
    }
    Map<String, Variable> byName = new LinkedHashMap<>();
    network.variables().forEach(variable -> byName.put(variable.name(), variable));
    return new Network(
        network.variables(),
        byName,
        new DependencyOrder(equations).sorted(),
        network.latches(),
        network.timers(),
        network.together());
  }
}
