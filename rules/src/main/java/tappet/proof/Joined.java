package tappet.proof;

import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;

/**
 * Two networks as one that hear the same: all of the original, and of the other one what stands
 * apart. What does not is read in the original under the same name.
 */
final class Joined {

  private final Network other;
  private final Network network;

  /** By variable of the other network: what it is here. */
  private final Map<Variable, Variable> counterparts = new HashMap<>();

  /**
   * @param apart variables of the other network, among them all that have no namesake
   */
  Joined(Network original, Network other, Set<Variable> apart) {
    this.other = other;
    NetworkBuilder builder = NetworkBuilder.extending(original);
    for (Variable variable : other.variables()) {
      counterparts.put(
          variable,
          apart.contains(variable) ? declare(variable, builder) : original.named(variable.name()));
    }
    apart.forEach(variable -> define(variable, builder));
    Set<Set<Variable>> known = Set.copyOf(original.together());
    other.together().stream()
        .map(this::counterparts)
        .filter(group -> !known.contains(group))
        .forEach(builder::together);
    network = builder.build();
  }

  /**
   * Whether pulses that may come together in one network may in the other, or are not known there.
   */
  static boolean isPossible(Network original, Network other) {
    List<Set<String>> groups = names(original.together());
    return names(other.together()).stream()
        .allMatch(
            group ->
                groups.stream()
                    .allMatch(known -> known.equals(group) || Collections.disjoint(known, group)));
  }

  private static List<Set<String>> names(List<Set<Variable>> groups) {
    return groups.stream()
        .map(group -> group.stream().map(Variable::name).collect(Collectors.toSet()))
        .toList();
  }

  /** What of the other network has no namesake that begins alike or is asked for as long. */
  static Set<Variable> withoutNamesake(Network original, Network other) {
    Set<Variable> apart = new LinkedHashSet<>();
    for (Variable variable : other.variables()) {
      Optional<Variable> namesake = original.find(variable.name());
      if (namesake.filter(found -> isAlike(found, original, variable, other)).isEmpty()) {
        apart.add(variable);
      }
    }
    return apart;
  }

  private static boolean isAlike(Variable one, Network ofOne, Variable two, Network ofTwo) {
    return one.kind() == two.kind()
        && initially(one, ofOne).equals(initially(two, ofTwo))
        && time(one, ofOne).equals(time(two, ofTwo));
  }

  private static Optional<Boolean> initially(Variable variable, Network network) {
    return Optional.ofNullable(network.latches().get(variable)).map(Latch::initially);
  }

  /** By what a pulse is asked for, and how long, where it tells that a time has run out. */
  private static Optional<String> time(Variable pulse, Network network) {
    return network.timerEndedBy(pulse).map(timer -> timer.running() + " " + timer.duration());
  }

  private Variable declare(Variable variable, NetworkBuilder builder) {
    String name = "other " + variable.name();
    return switch (variable.kind()) {
      case INPUT -> builder.input(name, variable.words());
      // It may come at any time, though it could only while it is asked for: that is more.
      case PULSE -> builder.pulse(name, variable.words());
      case LATCH ->
          other.latches().get(variable).initially()
              ? builder.latchInitiallyTrue(name, variable.words())
              : builder.latch(name, variable.words());
      case EQUATION -> builder.equation(name, variable.words());
    };
  }

  private void define(Variable variable, NetworkBuilder builder) {
    Variable here = counterparts.get(variable);
    if (variable.kind() == Variable.Kind.EQUATION) {
      builder.define(here, read(other.equations().get(variable)));
    } else if (variable.kind() == Variable.Kind.LATCH) {
      Latch latch = other.latches().get(variable);
      builder.define(here, read(latch.set()), read(latch.reset()));
    }
  }

  /** The original, and what of the other network stands apart. */
  Network network() {
    return network;
  }

  /** What a variable of the other network is here. */
  Variable counterpart(Variable ofOther) {
    return counterparts.get(ofOther);
  }

  private Set<Variable> counterparts(Set<Variable> ofOther) {
    return ofOther.stream().map(counterparts::get).collect(Collectors.toCollection(HashSet::new));
  }

  /** An expression of the other network in what its variables are here. */
  Expression read(Expression ofOther) {
    if (ofOther instanceof Expression.Is is) {
      return Expression.is(counterparts.get(is.variable()));
    }
    if (ofOther instanceof Expression.Not not) {
      return new Expression.Not(read(not.part()));
    }
    if (ofOther instanceof Expression.All all) {
      return new Expression.All(all.parts().stream().map(this::read).toList());
    }
    return new Expression.Any(((Expression.Any) ofOther).parts().stream().map(this::read).toList());
  }
}
