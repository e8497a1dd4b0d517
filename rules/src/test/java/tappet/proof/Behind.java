package tappet.proof;

import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Predicate;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Timer;
import tappet.network.Variable;

/** All that some variables depend on, themselves among it. */
final class Behind {

  private final Network network;
  private final Set<Variable> found = new LinkedHashSet<>();
  private final List<Latch> latches;
  private final List<Timer> timers;

  Behind(Network network, Collection<Variable> asked) {
    this.network = network;
    asked.forEach(this::find);
    latches = only(network.latches().values(), latch -> found.contains(latch.variable()));
    timers = only(network.timers(), timer -> found.contains(timer.runsOut()));
  }

  List<Variable> all() {
    return List.copyOf(found);
  }

  List<Variable> of(Variable.Kind kind) {
    return network.variables().stream()
        .filter(found::contains)
        .filter(variable -> variable.kind() == kind)
        .toList();
  }

  List<Latch> latches() {
    return latches;
  }

  List<Timer> timers() {
    return timers;
  }

  private static <T> List<T> only(Collection<T> all, Predicate<T> wanted) {
    return all.stream().filter(wanted).toList();
  }

  private void find(Variable variable) {
    if (!found.add(variable)) {
      return;
    }
    if (network.equations().containsKey(variable)) {
      find(network.equations().get(variable));
    }
    if (network.latches().containsKey(variable)) {
      find(network.latches().get(variable).set());
      find(network.latches().get(variable).reset());
    }
    network.timers().stream()
        .filter(timer -> timer.runsOut().equals(variable))
        .forEach(timer -> find(timer.running()));
  }

  private void find(Expression expression) {
    if (expression instanceof Expression.Is is) {
      find(is.variable());
    } else if (expression instanceof Expression.Not not) {
      find(not.part());
    } else if (expression instanceof Expression.All all) {
      all.parts().forEach(this::find);
    } else if (expression instanceof Expression.Any any) {
      any.parts().forEach(this::find);
    }
  }
}
