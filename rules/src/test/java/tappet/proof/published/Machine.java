package tappet.proof.published;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.NetworkBuilder;
import tappet.network.Stepper;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Happenings;
import tappet.proof.Property;
import tappet.proof.Property.Kind;
import tappet.proof.Watched;

/**
 * A published machine as a network: what it remembers as latches, what may happen to it as pulses,
 * what it is told as inputs.
 */
final class Machine {

  /** What makes a latch true and what makes it false. */
  private record Changes(List<Expression> sets, List<Expression> resets) {}

  private final NetworkBuilder network = new NetworkBuilder();
  private final Map<Variable, Changes> latches = new LinkedHashMap<>();
  private final List<Variable> happening = new ArrayList<>();
  private final List<Property> properties = new ArrayList<>();

  /** An event that may come at any time. */
  Variable event(String name) {
    return network.pulse(name, Words.fact(name, ""));
  }

  /** An event that is enabled while its guard holds: true in the tick in which it happens. */
  Expression event(String name, Expression guard) {
    Variable happens = equation(name + ": happens", all(is(event(name)), guard));
    happening.add(happens);
    return is(happens);
  }

  /** True in a tick in which any of the events with a guard happens. */
  Variable anyEventHappens() {
    return equation("an event happens", any(happening.stream().map(Expression::is).toList()));
  }

  Variable input(String name) {
    return network.input(name, words(name));
  }

  Variable equation(String name, Expression meaning) {
    return network.equation(name, words(name), meaning);
  }

  /** A latch that begins false. */
  Variable latch(String name) {
    return remembered(network.latch(name, words(name)));
  }

  Variable latchInitiallyTrue(String name) {
    return remembered(network.latchInitiallyTrue(name, words(name)));
  }

  private Variable remembered(Variable latch) {
    latches.put(latch, new Changes(new ArrayList<>(), new ArrayList<>()));
    return latch;
  }

  private static Words words(String name) {
    return Words.fact(name, "not " + name);
  }

  void set(Variable latch, Expression when) {
    latches.get(latch).sets.add(when);
  }

  void reset(Variable latch, Expression when) {
    latches.get(latch).resets.add(when);
  }

  /** Whenever something happens, a latch takes the value that something has then. */
  void take(Variable latch, Expression when, Expression value) {
    set(latch, all(when, value));
    reset(latch, all(when, not(value)));
  }

  /** Demands that something holds in every state and in every tick. */
  void demand(Kind kind, String words, Expression holds) {
    demand(kind, words, Expression.always(), holds);
  }

  /** Demands that something holds wherever its premise does. */
  void demand(Kind kind, String words, Expression premise, Expression consequence) {
    Variable says = equation("premise of '" + words + "'", premise);
    Variable holds = equation("property '" + words + "'", any(not(says), consequence));
    properties.add(new Property(kind, words, holds, says));
  }

  Watched watched() {
    latches.forEach(
        (latch, changes) -> network.define(latch, any(changes.sets), any(changes.resets)));
    Network whole = network.build();
    return new Watched(whole, properties, new Anything(whole), List.of());
  }

  /** Each event and each change of an input is as likely as any other. */
  private record Anything(Network network) implements Happenings {

    @Override
    public Happenings again() {
      return this;
    }

    @Override
    public void begin(Stepper stepper) {
      // A published machine begins as its latches do, with nothing told.
    }

    @Override
    public void next(Stepper stepper, SplittableRandom chance) {
      List<Variable> free =
          network.variables().stream()
              .filter(any -> any.kind() == Variable.Kind.PULSE || any.kind() == Variable.Kind.INPUT)
              .toList();
      Variable one = free.get(chance.nextInt(free.size()));
      if (one.kind() == Variable.Kind.PULSE) {
        stepper.pulse(one);
      } else {
        stepper.set(one, !stepper.value(one));
      }
    }
  }
}
