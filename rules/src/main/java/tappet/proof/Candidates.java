package tappet.proof;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Predicate;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.proof.sat.Cone;

/**
 * Lemmas worth a try, from the structure of a network: between latches that read each other, or
 * that few others read the same with, and between alternatives of one gate, which may exclude each
 * other.
 */
final class Candidates {

  /** Where more pairs of latches read the same, it says little about how two belong together. */
  private static final int PAIRS_MAX = 2_500;

  private final Network network;
  private final SeenStates seen;
  private final Dependencies dependencies;
  private final Predicate<Variable> isChanged;
  private final Set<Variable> cone;
  private final Set<Lemma> found = new LinkedHashSet<>();

  private Candidates(
      Watched watched, SeenStates seen, Dependencies dependencies, Predicate<Variable> isChanged) {
    this.network = watched.network();
    this.seen = seen;
    this.dependencies = dependencies;
    this.isChanged = isChanged;
    this.cone =
        new Cone(network, watched.properties().stream().map(Property::holds).toList()).variables();
  }

  /**
   * Every lemma worth a try about what the properties depend on, that no state seen speaks against
   * and that holds at the start.
   *
   * @param isChanged a latch about which there is something new to say
   */
  static List<Lemma> of(
      Watched watched, SeenStates seen, Dependencies dependencies, Predicate<Variable> isChanged) {
    Candidates candidates = new Candidates(watched, seen, dependencies, isChanged);
    candidates.compareReaders();
    candidates.compareAlternatives();
    return List.copyOf(candidates.found);
  }

  private void compareReaders() {
    for (Variable variable : cone) {
      List<Variable> readers = dependencies.ownReadersOf(variable);
      compare(readers, readers);
      for (Variable near : dependencies.near(variable)) {
        compare(readers, dependencies.ownReadersOf(near));
      }
      if (isLatch(variable)) {
        dependencies.readersOf(variable).forEach(reader -> compare(variable, reader));
      }
    }
  }

  private void compare(List<Variable> some, List<Variable> others) {
    if (some.size() * others.size() <= PAIRS_MAX) {
      some.forEach(one -> others.forEach(other -> compare(one, other)));
    }
  }

  private void compareAlternatives() {
    network.equations().values().forEach(this::compareAlternatives);
    network.latches().values().forEach(latch -> compareAlternatives(latch.set()));
  }

  private void compareAlternatives(Expression expression) {
    List<Expression> parts =
        expression instanceof Expression.Any any
            ? any.parts()
            : expression instanceof Expression.All all ? all.parts() : List.of();
    List<Variable> latches =
        parts.stream()
            .filter(Expression.Is.class::isInstance)
            .map(part -> ((Expression.Is) part).variable())
            .filter(this::isLatch)
            .toList();
    for (int one = 0; one < latches.size(); one++) {
      for (int other = one + 1; other < latches.size(); other++) {
        propose(latches.get(one), false, latches.get(other), false);
      }
    }
    parts.forEach(this::compareAlternatives);
  }

  private void compare(Variable one, Variable other) {
    for (boolean oneValue : new boolean[] {false, true}) {
      for (boolean otherValue : new boolean[] {false, true}) {
        propose(one, oneValue, other, otherValue);
      }
    }
  }

  private void propose(Variable one, boolean oneValue, Variable other, boolean otherValue) {
    boolean isNew = isChanged.test(one) || isChanged.test(other);
    if (!isNew || one.equals(other) || !cone.contains(one) || !cone.contains(other)) {
      return;
    }
    Lemma lemma = Lemma.of(one, oneValue, other, otherValue);
    if (!found.contains(lemma) && lemma.holdsAtStart(network) && seen.agreeWith(lemma)) {
      found.add(lemma);
    }
  }

  private boolean isLatch(Variable variable) {
    return variable.kind() == Variable.Kind.LATCH;
  }
}
