package tappet.proof.mutants;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import tappet.network.Network;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.proof.Watched;
import tappet.proof.track.Orders;
import tappet.proof.track.SafetyProperties;

/** Two networks of one railroad that are run side by side and told the same. */
final class TwinOperation {

  private static final int MOMENTS = 4_000;
  private static final long SEED = 236;

  private final Watched sound;
  private final Stepper one;
  private final Stepper other;
  private int orders;

  private TwinOperation(SoundRailroad railroad, String otherRules) {
    sound =
        SafetyProperties.of(railroad.layout(), railroad.compiled(railroad.rules()).orElseThrow());
    one = new Stepper(sound.network());
    other = new Stepper(railroad.compiled(otherRules).orElseThrow());
  }

  /**
   * Fails at the first step in which they tell the field different things.
   *
   * @return how many orders they gave
   */
  static int ordersGivenAlike(SoundRailroad railroad, String otherRules) {
    TwinOperation twins = new TwinOperation(railroad, otherRules);
    twins.run();
    return twins.orders;
  }

  private void run() {
    SplittableRandom chance = new SplittableRandom(SEED);
    sound.happenings().begin(one);
    for (int moment = 0; moment < MOMENTS; moment++) {
      tellOther();
      List<String> orders = orders(one);
      assertEquals(orders, orders(other), "moment " + moment);
      this.orders += orders.size();
      sound.happenings().next(one, chance);
    }
  }

  private void tellOther() {
    for (Variable variable : other.network().variables()) {
      boolean told = sound.network().find(variable.name()).filter(one::value).isPresent();
      if (variable.kind() == Variable.Kind.INPUT) {
        other.set(variable, told);
      } else if (variable.kind() == Variable.Kind.PULSE && told) {
        other.pulse(variable);
      }
    }
  }

  /** What the field is told in a step; within a tick the order means nothing. */
  private static List<String> orders(Stepper stepper) {
    List<String> orders = new ArrayList<>();
    stepper.step(
        (variable, value) -> {
          if (Orders.isOne(variable.name())) {
            orders.add(variable + (value ? "" : " no longer"));
          }
        });
    return orders.stream().sorted().toList();
  }

  /** What each variable of the network of some rules means. */
  static Map<String, String> meanings(SoundRailroad railroad, String rules) {
    Network network = railroad.compiled(rules).orElseThrow();
    Map<String, String> meanings = new LinkedHashMap<>();
    network.variables().forEach(variable -> meanings.put(variable.name(), ""));
    network.equations().forEach((one, meaning) -> meanings.put(one.name(), meaning.toString()));
    network.latches().forEach((one, latch) -> meanings.put(one.name(), latch.toString()));
    network.timers().forEach(time -> meanings.put(time.hasRun().name(), time.toString()));
    return meanings;
  }
}
