package tappet.proof;

import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import tappet.network.Altered;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.RandomNetwork;
import tappet.network.Variable;
import tappet.network.Words;

/** Random networks that also ask for times, and in which some pulses may come together. */
final class TimedNetwork {

  private static final Duration ANY_TIME = Duration.ofSeconds(1);

  private TimedNetwork() {}

  static Network of(long seed) {
    Random random = new Random(seed);
    NetworkBuilder builder = new NetworkBuilder();
    RandomNetwork.addTo(builder, seed, "");
    Network plain = builder.build();

    NetworkBuilder more = NetworkBuilder.extending(plain);
    List<Variable> pulses = of(Variable.Kind.PULSE, plain);
    if (pulses.size() > 1 && random.nextBoolean()) {
      more.together(pulses.subList(0, 2));
    }
    List<Variable> inputs = of(Variable.Kind.INPUT, plain);
    Map<Variable, Variable> instead = new HashMap<>();
    for (int time = random.nextInt(3); time > 0; time--) {
      String name = "time " + time;
      Variable any = plain.variables().get(random.nextInt(plain.variables().size()));
      Variable running = more.equation(name + " runs", Words.through(), Expression.is(any));
      Variable hasRun = more.timer(name, Words.through(), running, ANY_TIME);
      instead.put(inputs.get(random.nextInt(inputs.size())), hasRun);
    }
    return Altered.reading(more.build(), instead);
  }

  private static List<Variable> of(Variable.Kind kind, Network network) {
    return network.variables().stream().filter(variable -> variable.kind() == kind).toList();
  }
}
