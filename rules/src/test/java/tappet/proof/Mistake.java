package tappet.proof;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Stream;
import tappet.network.Altered;
import tappet.network.Expression;
import tappet.network.Latch;
import tappet.network.Network;
import tappet.network.Variable;

/** A network in which somebody has forgotten one part of one equation of the interlocking. */
record Mistake(String words, Network network) {

  /** Some mistakes by chance, each in something that one of the properties depends on. */
  static List<Mistake> in(Network network, Collection<Variable> properties, int count, long seed) {
    List<Mistake> all = new ArrayList<>();
    Behind behind = new Behind(network, properties);
    behind.of(Variable.Kind.EQUATION).stream()
        .filter(Mistake::isInterlocking)
        .forEach(equation -> forget(equation, network, all));
    behind.latches().stream()
        .filter(latch -> isInterlocking(latch.variable()))
        .forEach(latch -> forget(latch, network, all));
    Collections.shuffle(all, new Random(seed));
    return all.subList(0, count);
  }

  /** What watches must stay as it is. */
  private static boolean isInterlocking(Variable variable) {
    return Stream.of("section ", "switch ", "route ", "signal ")
        .anyMatch(variable.name()::startsWith);
  }

  private static void forget(Variable equation, Network network, List<Mistake> all) {
    for (Expression wrong : withoutOnePart(network.equations().get(equation))) {
      all.add(
          new Mistake(
              equation + " = " + wrong, Altered.with(network, Map.of(equation, wrong), Map.of())));
    }
  }

  private static void forget(Latch latch, Network network, List<Mistake> all) {
    Variable variable = latch.variable();
    for (Expression wrong : withoutOnePart(latch.set())) {
      Latch altered = new Latch(variable, wrong, latch.reset(), latch.initially());
      all.add(
          new Mistake(
              variable + " set by " + wrong,
              Altered.with(network, Map.of(), Map.of(variable, altered))));
    }
    for (Expression wrong : withoutOnePart(latch.reset())) {
      Latch altered = new Latch(variable, latch.set(), wrong, latch.initially());
      all.add(
          new Mistake(
              variable + " reset by " + wrong,
              Altered.with(network, Map.of(), Map.of(variable, altered))));
    }
  }

  private static List<Expression> withoutOnePart(Expression expression) {
    List<Expression> wrong = new ArrayList<>();
    if (expression instanceof Expression.All all) {
      without(all.parts()).forEach(parts -> wrong.add(Expression.all(parts)));
    } else if (expression instanceof Expression.Any any) {
      without(any.parts()).forEach(parts -> wrong.add(Expression.any(parts)));
    }
    return wrong;
  }

  private static List<List<Expression>> without(List<Expression> parts) {
    List<List<Expression>> found = new ArrayList<>();
    for (int part = 0; part < parts.size(); part++) {
      List<Expression> rest = new ArrayList<>(parts);
      rest.remove(part);
      found.add(rest);
    }
    return found;
  }
}
