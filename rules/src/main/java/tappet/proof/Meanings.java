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
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Timer;
import tappet.network.Variable;

/** What the variables of a network say, and which of them a question is about. */
final class Meanings {

  private final Network network;

  /** By pulse that may come with others: all their names. */
  private final Map<Variable, Fingerprint> comesWith = new HashMap<>();

  private final Map<Variable, List<Variable>> named = new ConcurrentHashMap<>();
  private final Map<Variable, Fingerprint> fingerprints = new ConcurrentHashMap<>();
  private final Map<Lemma, Fingerprint> lemmas = new ConcurrentHashMap<>();

  Meanings(Network network) {
    this.network = network;
    for (Set<Variable> group : network.together()) {
      Fingerprint names = Fingerprint.NOTHING;
      for (Variable pulse : group) {
        names = names.plus(Fingerprint.of(pulse.name()));
      }
      for (Variable pulse : group) {
        comesWith.put(pulse, names);
      }
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
      Set<Variable> before = new LinkedHashSet<>(latches);
      latches.forEach(latch -> before.addAll(named(latch)));
      latches = within(before, behind);
    }
    return behind;
  }

  /** Adds what some variables depend on in their own tick; answers the latches among it. */
  private Set<Variable> within(Collection<Variable> variables, Set<Variable> found) {
    Set<Variable> seen = new LinkedHashSet<>(variables);
    Deque<Variable> open = new ArrayDeque<>(seen);
    while (!open.isEmpty()) {
      Variable variable = open.pop();
      if (variable.kind() != Variable.Kind.LATCH) {
        named(variable).stream().filter(seen::add).forEach(open::push);
      }
    }
    found.addAll(seen);
    seen.removeIf(variable -> variable.kind() != Variable.Kind.LATCH);
    return seen;
  }

  /** What is named where a variable is defined: a latch takes it from the tick before. */
  private List<Variable> named(Variable variable) {
    return named.computeIfAbsent(variable, this::readNamed);
  }

  private List<Variable> readNamed(Variable variable) {
    return switch (variable.kind()) {
      case INPUT -> List.of();
      case EQUATION -> List.copyOf(network.equations().get(variable).variables());
      case PULSE -> network.timerEndedBy(variable).map(Timer::running).stream().toList();
      case LATCH -> {
        Latch latch = network.latches().get(variable);
        Set<Variable> read = new LinkedHashSet<>(latch.set().variables());
        read.addAll(latch.reset().variables());
        yield List.copyOf(read);
      }
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

  /** What a variable says; a name comes with its length, so that nothing else says the same. */
  private String said(Variable variable) {
    StringBuilder said = new StringBuilder().append(variable.kind());
    write(variable, said);
    switch (variable.kind()) {
      case INPUT -> {}
      case PULSE -> {
        named(variable).forEach(running -> write(running, said));
        said.append(comesWith.getOrDefault(variable, Fingerprint.NOTHING));
      }
      case EQUATION -> write(network.equations().get(variable), said);
      case LATCH -> {
        Latch latch = network.latches().get(variable);
        said.append(latch.initially());
        write(latch.set(), said);
        write(latch.reset(), said);
      }
    }
    return said.toString();
  }

  private static void write(Expression expression, StringBuilder said) {
    if (expression instanceof Expression.Is is) {
      write(is.variable(), said);
    } else if (expression instanceof Expression.Not not) {
      said.append(" not");
      write(not.part(), said);
    } else if (expression instanceof Expression.All all) {
      said.append(" all ").append(all.parts().size());
      all.parts().forEach(part -> write(part, said));
    } else if (expression instanceof Expression.Any any) {
      said.append(" any ").append(any.parts().size());
      any.parts().forEach(part -> write(part, said));
    }
  }

  private static void write(Variable variable, StringBuilder said) {
    said.append(' ').append(variable.name().length()).append(' ').append(variable.name());
  }
}
