package tappet.network;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * One variable of which two networks do not say the same. Variables are the same if they have the
 * same name, and say the same if they are made of the same parts, in whatever order: what each part
 * means in turn is a question about the variables that it names.
 *
 * @param name the variable
 * @param before it in the first network, if it is there
 * @param after it in the second one, if it is there
 * @param about the names of the variables in the parts that only one of them has
 */
public record Difference(
    String name, Optional<Variable> before, Optional<Variable> after, Set<String> about) {

  /** A part of an equation, and the variables that it names. */
  private static final class Parts {
    private final Map<String, Set<Variable>> named = new TreeMap<>();

    void add(String role, Expression meaning) {
      boolean isAll = meaning instanceof Expression.All;
      for (Expression part : partsOf(meaning)) {
        named.put(role + (isAll ? "all of " : "any of ") + text(part), part.variables());
      }
      named.put(role + (isAll ? "all" : "any"), Set.of());
    }

    void add(String said, Set<Variable> variables) {
      named.put(said, variables);
    }

    boolean saysTheSame(Parts other) {
      return named.keySet().equals(other.named.keySet());
    }

    Set<String> namedInAllBut(Parts other) {
      Set<String> names = new LinkedHashSet<>();
      named.forEach(
          (text, variables) -> {
            if (!other.named.containsKey(text)) {
              variables.forEach(variable -> names.add(variable.name()));
            }
          });
      return names;
    }
  }

  /** All of them, in the order of the first network and then of the second. */
  public static List<Difference> between(Network before, Network after) {
    Map<String, Variable> names = new LinkedHashMap<>();
    before.variables().forEach(variable -> names.put(variable.name(), variable));
    after.variables().forEach(variable -> names.putIfAbsent(variable.name(), variable));
    List<Difference> differences = new ArrayList<>();
    for (String name : names.keySet()) {
      between(name, before, after).ifPresent(differences::add);
    }
    return differences;
  }

  private static Optional<Difference> between(String name, Network before, Network after) {
    Optional<Variable> old = before.find(name);
    Optional<Variable> young = after.find(name);
    Parts oldParts = old.map(variable -> parts(variable, before)).orElseGet(Parts::new);
    Parts youngParts = young.map(variable -> parts(variable, after)).orElseGet(Parts::new);
    if (oldParts.saysTheSame(youngParts)) {
      return Optional.empty();
    }
    Set<String> about = new LinkedHashSet<>(oldParts.namedInAllBut(youngParts));
    about.addAll(youngParts.namedInAllBut(oldParts));
    return Optional.of(new Difference(name, old, young, about));
  }

  private static Parts parts(Variable variable, Network network) {
    Parts parts = new Parts();
    parts.add("a " + variable.kind(), Set.of());
    switch (variable.kind()) {
      case INPUT -> {}
      case EQUATION -> parts.add("", network.equations().get(variable));
      case LATCH -> {
        Latch latch = network.latches().get(variable);
        parts.add("at first " + latch.initially(), Set.of());
        parts.add("set by ", latch.set());
        parts.add("reset by ", latch.reset());
      }
      case PULSE ->
          network
              .timerEndedBy(variable)
              .ifPresent(
                  timer ->
                      parts.add(
                          timer.duration() + " of " + timer.running(), Set.of(timer.running())));
    }
    return parts;
  }

  /** The variables that a variable follows from directly; none for what comes from outside. */
  public static Set<Variable> read(Variable variable, Network network) {
    return switch (variable.kind()) {
      case INPUT, PULSE -> Set.of();
      case EQUATION -> network.equations().get(variable).variables();
      case LATCH -> {
        Latch latch = network.latches().get(variable);
        Set<Variable> read = new LinkedHashSet<>(latch.set().variables());
        read.addAll(latch.reset().variables());
        yield read;
      }
    };
  }

  private static List<Expression> partsOf(Expression meaning) {
    if (meaning instanceof Expression.All all) {
      return all.parts();
    }
    return meaning instanceof Expression.Any any ? any.parts() : List.of(meaning);
  }

  private static String text(Expression expression) {
    if (expression instanceof Expression.Is is) {
      return is.variable().name();
    }
    if (expression instanceof Expression.Not not) {
      return "not " + text(not.part());
    }
    String between = expression instanceof Expression.All ? " and " : " or ";
    return partsOf(expression).stream()
        .map(Difference::text)
        .sorted()
        .collect(Collectors.joining(between, "(", ")"));
  }
}
