package tappet.proof;

import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Timer;
import tappet.network.Variable;

/** What the variables of a network say, and which of them a question is about. */
final class Meanings {

  private final Network network;
  private final Map<Variable, List<String>> comesWith = new HashMap<>();
  private final Map<Variable, Fingerprint> fingerprints = new ConcurrentHashMap<>();
  private final Map<Lemma, Fingerprint> lemmas = new ConcurrentHashMap<>();

  Meanings(Network network) {
    this.network = network;
    for (Set<Variable> group : network.together()) {
      List<String> names = group.stream().map(Variable::name).sorted().toList();
      group.forEach(pulse -> comesWith.put(pulse, names));
    }
  }

  /**
   * Everything in the ticks before that the values of some variables depend on, and themselves.
   *
   * @param ticks how many ticks before; none, and it is what their values in a tick depend on there
   */
  Set<Variable> behind(Collection<Variable> variables, int ticks) {
    Set<Variable> behind = new LinkedHashSet<>();
    Set<Variable> latches = within(variables, behind);
    for (int tick = 0; tick < ticks; tick++) {
      latches =
          within(latches.stream().flatMap(latch -> changing(latch).stream()).toList(), behind);
    }
    return behind;
  }

  /** Adds what some variables depend on in their own tick; answers the latches among it. */
  private Set<Variable> within(Collection<Variable> variables, Set<Variable> found) {
    Set<Variable> seen = new LinkedHashSet<>(variables);
    Deque<Variable> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      for (Variable named : named(open.pop())) {
        if (seen.add(named)) {
          open.push(named);
        }
      }
    }
    found.addAll(seen);
    seen.removeIf(variable -> variable.kind() != Variable.Kind.LATCH);
    return seen;
  }

  private Set<Variable> changing(Variable variable) {
    Latch latch = network.latches().get(variable);
    Set<Variable> read = new LinkedHashSet<>(latch.set().variables());
    read.addAll(latch.reset().variables());
    read.add(variable);
    return read;
  }

  private Collection<Variable> named(Variable variable) {
    return switch (variable.kind()) {
      case INPUT, LATCH -> List.of();
      case EQUATION -> network.equations().get(variable).variables();
      case PULSE -> network.timerEndedBy(variable).map(Timer::running).stream().toList();
    };
  }

  /** What some variables say together. */
  Fingerprint of(Collection<Variable> variables) {
    Fingerprint sum = Fingerprint.NOTHING;
    for (Variable variable : variables) {
      sum = sum.plus(of(variable));
    }
    return sum;
  }

  /** What some lemmas say together. */
  Fingerprint ofLemmas(Collection<Lemma> said) {
    Fingerprint sum = Fingerprint.NOTHING;
    for (Lemma lemma : said) {
      sum = sum.plus(lemmas.computeIfAbsent(lemma, any -> Fingerprint.of(lemma.toString())));
    }
    return sum;
  }

  private Fingerprint of(Variable variable) {
    return fingerprints.computeIfAbsent(variable, any -> Fingerprint.of(said(variable)));
  }

  private String said(Variable variable) {
    String name = variable.kind() + " " + variable + " ";
    return switch (variable.kind()) {
      case INPUT -> name;
      case EQUATION -> name + network.equations().get(variable);
      case LATCH -> {
        Latch latch = network.latches().get(variable);
        yield name + latch.initially() + latch.set() + latch.reset();
      }
      case PULSE -> name + named(variable) + comesWith.getOrDefault(variable, List.of());
    };
  }
}
