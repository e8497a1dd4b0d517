package tappet.proof.track;

import static tappet.network.Expression.is;
import static tappet.network.Expression.never;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.List;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.proof.Property.Kind;

/** When nothing at all may be given: soon after the start, and in an emergency. */
final class StandstillDemands {

  private final Layout layout;
  private final List<Signal> signals;
  private final Plant plant;
  private final NetworkBuilder network;

  StandstillDemands(Layout layout, List<Signal> signals, Plant plant, NetworkBuilder network) {
    this.layout = layout;
    this.signals = signals;
    this.plant = plant;
    this.network = network;
  }

  List<Demand> all() {
    List<Demand> demands = new ArrayList<>(nothingGiven(Kind.START, startWords(), is(early())));
    for (String kind : List.of("emergency off", "emergency stop")) {
      Expression stands = is(emergency(kind));
      demands.addAll(nothingGiven(Kind.EMERGENCY, "while an " + kind + " stands", stands));
    }
    return demands;
  }

  private static String startWords() {
    return "before the time since the start has run";
  }

  /** A train may have accepted a signal just before the start. */
  private Variable early() {
    Variable early =
        network.latchInitiallyTrue(
            "watch: start", Words.fact("the time since the start runs", "the start is over"));
    network.define(early, never(), plant.startIsOver());
    return early;
  }

  private Variable emergency(String kind) {
    Variable stands = network.latch("watch: " + kind, Words.fact(kind + " stands", "no " + kind));
    network.define(stands, is(plant.named(kind + ": called")), is(plant.named(kind + ": cleared")));
    return stands;
  }

  private List<Demand> nothingGiven(Kind kind, String when, Expression premise) {
    List<Demand> demands = new ArrayList<>();
    for (Signal signal : signals) {
      Expression stop = not(plant.proceeds(signal.id()));
      demands.add(new Demand(kind, "signal " + signal.id() + " is at Stop " + when, premise, stop));
    }
    for (String number : plant.motors()) {
      String words = "switch " + number + " is not moved " + when;
      demands.add(new Demand(kind, words, premise, not(plant.moves(number))));
    }
    for (String id : layout.switches().keySet()) {
      String words = "the lock of switch " + id + " is not released " + when;
      plant
          .releases(id)
          .ifPresent(released -> demands.add(new Demand(kind, words, premise, not(released))));
    }
    return demands;
  }
}
