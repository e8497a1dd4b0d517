package tappet.interlocking;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.layout.LampProving;
import tappet.layout.Lights;
import tappet.layout.Signal;
import tappet.layout.SignalLamp;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.AspectLadder;

/**
 * The lamps of one signal, as far as boards tell whether they work (49 CFR 236.23).
 *
 * <p>A signal that cannot show every aspect its route may ask of it shows the lowest one of its
 * speed, which promises nothing about the next signal but that it exists; where it cannot show that
 * either, it stays at Stop. So a signal passes on either all that it hears of the next one or
 * nothing of it, and aspects settle in as many rounds as without lamps.
 */
final class SignalLampCircuit {

  /** One lamp: nothing is known of it, or it has failed, or it works. */
  private record Proved(Variable known, Variable failed, Variable works) {}

  private final Signal signal;
  private final Map<LampProving, Proved> lamps = new LinkedHashMap<>();
  private final Map<Clearing, Variable> serves = new LinkedHashMap<>();

  SignalLampCircuit(Signal signal, NetworkBuilder network) {
    this.signal = signal;
    signal
        .lights()
        .map(Lights::provings)
        .orElse(Set.of())
        .forEach(lamp -> lamps.put(lamp, declare(lamp, network)));
  }

  private Proved declare(LampProving lamp, NetworkBuilder network) {
    String name = lamp.name() + " of " + Naming.signal(signal);
    String role = "signal " + signal.id() + ": lamp " + lamp.id() + " ";
    Variable known =
        network.input(role + "known", Words.fact(name + " reports", name + " has not reported"));
    Variable failed =
        network.input(role + "failed", Words.fact(name + " has failed", name + " works"));
    Variable works =
        network.equation(
            role + "works",
            Words.joining(name + " works", name + " does not work"),
            all(is(known), not(failed)));
    return new Proved(known, failed, works);
  }

  /** What tells that a lamp reports, and what that it has failed, by the lamp's name. */
  Optional<Variable> known(String lamp) {
    return find(lamp).map(Proved::known);
  }

  Optional<Variable> failed(String lamp) {
    return find(lamp).map(Proved::failed);
  }

  private Optional<Proved> find(String lamp) {
    return lamps.entrySet().stream()
        .filter(entry -> entry.getKey().id().equals(lamp))
        .map(Map.Entry::getValue)
        .findFirst();
  }

  /** By lamp: that it has failed. */
  List<Variable> failures() {
    return lamps.values().stream().map(Proved::failed).toList();
  }

  /** By lamp: that it works. */
  List<Variable> works() {
    return lamps.values().stream().map(Proved::works).toList();
  }

  /** What lamps demand of a route's signal before it may proceed. */
  List<Expression> proofs(AspectLadder ladder) {
    return lamps.isEmpty() ? List.of() : List.of(canShow(ladder.lowest()));
  }

  /** That a train reads this aspect where it is meant: no lamp that it takes is out. */
  Expression canShow(String aspect) {
    List<Expression> needs = new ArrayList<>();
    if (!lamps.isEmpty()) {
      Lights lights = signal.lights().orElseThrow();
      lights.looks().needs(aspect).forEach(heads -> needs.add(oneShines(aspect, heads, lights)));
    }
    return all(needs);
  }

  private Expression oneShines(String aspect, Set<Integer> heads, Lights lights) {
    return any(
        lights.shiningFor(aspect).stream()
            .filter(lamp -> heads.contains(lamp.head()))
            .map(this::shines)
            .toList());
  }

  /** A lamp that no board proves is taken to work, as it is everywhere without lamp proving. */
  private Expression shines(SignalLamp lamp) {
    return lamp.proving()
        .<Expression>map(proving -> is(lamps.get(proving).works()))
        .orElse(Expression.always());
  }

  /** Declares, for a route from this signal, whether its lamps can show what may be asked. */
  void define(Clearing route, Circuits circuits) {
    if (!lamps.isEmpty()) {
      serves.put(
          route,
          circuits.network.equation(
              "route " + route.row().id() + ": lamps serve",
              Words.joining("its lamps work", "one of its lamps is out"),
              canShowAllThatMayBeAsked(route, circuits)));
    }
  }

  /** What may be asked depends on the speed of the route that proceeds from the next signal. */
  private Expression canShowAllThatMayBeAsked(Clearing route, Circuits circuits) {
    AspectLadder ladder = circuits.table.ladderOf(route.row());
    List<Expression> serve = new ArrayList<>();
    List<Clearing> next = route.row().nextSignal().map(circuits::clearingsFrom).orElse(List.of());
    for (Clearing onward : next) {
      AspectLadder beyond = circuits.table.ladderOf(onward.row());
      List<Expression> asked =
          Stream.concat(beyond.beyond().values().stream(), onward.row().callOn().stream())
              .distinct()
              .flatMap(shown -> ladder.aspectBeyond(shown).stream())
              .distinct()
              .map(this::canShow)
              .toList();
      serve.add(any(not(onward.proceeds()), all(asked)));
    }
    return all(serve);
  }

  /** When an aspect is shown, of which {@code meant} tells when the ladder gives it. */
  Expression shown(String aspect, Expression meant, Clearing route, AspectLadder ladder) {
    Variable serve = serves.get(route);
    if (serve == null) {
      return meant;
    }
    return ladder.lowest().equals(aspect) ? any(meant, not(serve)) : all(meant, is(serve));
  }

  /** Whether a lamp keeps the aspect of a route down. */
  Optional<Variable> serves(Clearing route) {
    return Optional.ofNullable(serves.get(route));
  }
}
