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
import tappet.layout.Signal;
import tappet.network.Expression;
import tappet.network.NetworkBuilder;
import tappet.network.Variable;
import tappet.network.Words;
import tappet.rules.AspectLadder;
import tappet.rules.RouteRow;

/**
 * What a signal shows: by the speed of the route that proceeds from it and by what the next signal
 * shows.
 *
 * <p>Aspects are worked out in rounds. In round 0 every proceeding signal is taken to show the
 * lowest aspect of its speed; in each further round it shows what its ladder gives beyond the round
 * before. After as many rounds as the ladders reach signals ahead, the aspect no longer depends on
 * the first guess, and no equation depends on itself even where the track is a closed loop.
 */
final class SignalCircuit {

  final Signal signal;

  /** A person takes the signal away. */
  final Variable cancelled;

  /** A person lets its routes go behind the next train. */
  final Variable unfleeted;

  /** A person forgets what is stacked from it. */
  final Variable unstacked;

  /** It shows something better than Stop. */
  final Variable proceeds;

  /** A route from it is locked. */
  final Variable lined;

  /** What is known of its lamps. */
  final SignalLampCircuit lamps;

  private final List<Map<String, Variable>> showsInRound = new ArrayList<>();

  SignalCircuit(Signal signal, Set<String> aspects, int signalsAhead, NetworkBuilder network) {
    this.signal = signal;
    this.lamps = new SignalLampCircuit(signal, network);
    String name = Naming.signal(signal);
    String role = "signal " + signal.id() + ": ";
    cancelled = network.pulse(role + "cancelled", Words.through());
    unfleeted = network.pulse(role + "unfleeted", Words.through());
    unstacked = network.pulse(role + "unstacked", Words.through());
    proceeds =
        network.equation(
            role + "proceeds",
            Words.fact(
                name + " shows a proceed aspect", name + " shows " + signal.called(Signal.STOP)));
    lined =
        network.equation(
            role + "lined",
            Words.fact("a route is lined from " + name, "no route is lined from " + name));
    for (int round = 0; round <= signalsAhead; round++) {
      showsInRound.add(declareRound(aspects, round == signalsAhead, round, name, role, network));
    }
  }

  private static Map<String, Variable> declareRound(
      Set<String> aspects,
      boolean last,
      int round,
      String name,
      String role,
      NetworkBuilder network) {
    Map<String, Variable> shows = new LinkedHashMap<>();
    for (String aspect : aspects) {
      String what = role + "shows " + aspect + (last ? "" : " in round " + round);
      shows.put(
          aspect,
          network.equation(
              what, Words.fact(name + " shows " + aspect, name + " does not show " + aspect)));
    }
    return shows;
  }

  /** By aspect besides Stop: whether it is shown. */
  Map<String, Variable> shows() {
    return showsInRound.get(showsInRound.size() - 1);
  }

  void define(Circuits circuits) {
    if (signal.repeats().isPresent()) {
      defineRepeater(circuits.signal(signal.repeats().get()), circuits.network);
      return;
    }
    List<Clearing> ways = circuits.clearingsFrom(signal.id());
    List<RouteCircuit> routes = circuits.routesFrom(signal.id());
    NetworkBuilder network = circuits.network;
    ways.forEach(way -> lamps.define(way, circuits));
    network.define(
        proceeds, any(ways.stream().<Expression>map(way -> is(way.proceeds())).toList()));
    network.define(lined, any(routes.stream().<Expression>map(route -> is(route.locked)).toList()));
    for (int round = 0; round < showsInRound.size(); round++) {
      for (Map.Entry<String, Variable> shown : showsInRound.get(round).entrySet()) {
        network.define(shown.getValue(), shownFor(shown.getKey(), round, ways, circuits));
      }
    }
  }

  /** A repeater shows what the other signal does, as far as its own lamps can. */
  private void defineRepeater(SignalCircuit repeated, NetworkBuilder network) {
    for (int round = 0; round < showsInRound.size(); round++) {
      Map<String, Variable> others = repeated.showsInRound.get(round);
      showsInRound
          .get(round)
          .forEach(
              (aspect, shown) ->
                  network.define(shown, all(is(others.get(aspect)), lamps.canShow(aspect))));
    }
    network.define(
        proceeds, any(shows().values().stream().<Expression>map(Expression::is).toList()));
    network.define(lined, Expression.never());
  }

  private Expression shownFor(String aspect, int round, List<Clearing> ways, Circuits circuits) {
    List<Expression> shown = new ArrayList<>();
    for (Clearing way : ways) {
      AspectLadder ladder = circuits.table.ladderOf(way.row());
      if (way.row().callOn().filter(aspect::equals).isPresent()) {
        shown.add(all(is(way.proceeds()), way.callsOn()));
      }
      if (round == 0 && ladder.lowest().equals(aspect)) {
        shown.add(all(is(way.proceeds()), not(way.callsOn())));
      } else if (round > 0) {
        Expression meant = nextShowsOneOf(aspect, way.row(), ladder, round, circuits);
        shown.add(
            all(is(way.proceeds()), not(way.callsOn()), lamps.shown(aspect, meant, way, ladder)));
      }
    }
    return any(shown);
  }

  /** The next signal shows something beyond which the ladder gives {@code aspect}. */
  private Expression nextShowsOneOf(
      String aspect, RouteRow row, AspectLadder ladder, int round, Circuits circuits) {
    if (row.nextSignal().isEmpty()) {
      return ladder.lowest().equals(aspect) ? Expression.always() : Expression.never();
    }
    SignalCircuit next = circuits.signal(row.nextSignal().get());
    return any(
        ladder.beyond().entrySet().stream()
            .filter(rung -> rung.getValue().equals(aspect))
            .flatMap(rung -> next.showing(rung.getKey(), round - 1).stream())
            .toList());
  }

  private Optional<Expression> showing(String aspect, int round) {
    if (aspect.equals(Signal.STOP)) {
      return Optional.of(not(proceeds));
    }
    return Optional.ofNullable(showsInRound.get(round).get(aspect)).map(Expression::is);
  }
}
