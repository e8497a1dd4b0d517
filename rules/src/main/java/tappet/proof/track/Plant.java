package tappet.proof.track;

import static tappet.network.Expression.all;
import static tappet.network.Expression.any;
import static tappet.network.Expression.is;
import static tappet.network.Expression.not;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.layout.GradeCrossing;
import tappet.layout.Layout;
import tappet.layout.Position;
import tappet.layout.PowerDistrict;
import tappet.layout.Signal;
import tappet.layout.Switch;
import tappet.network.Expression;
import tappet.network.Network;
import tappet.network.Timer;
import tappet.network.Variable;

/**
 * The railway as the network meets it: what detectors say, and what signals, switches and locks are
 * told. Only names join the two; how the network comes to its orders is not known here.
 */
final class Plant {

  private final Layout layout;
  private final Network network;

  Plant(Layout layout, Network network) {
    this.layout = layout;
    this.network = network;
  }

  /** A section's detector tells that it is occupied, and is heard. */
  Expression occupied(String section) {
    String role = "section " + section + ": ";
    return all(is(network.named(role + "known")), is(network.named(role + "occupied")));
  }

  /** A section's detector tells that it is clear, and has the power to know. */
  Expression clear(String section) {
    return all(known(section), not(network.named("section " + section + ": occupied")));
  }

  private Expression known(String section) {
    Optional<PowerDistrict> district = layout.lineside().districtOf(section);
    if (district.isEmpty()) {
      return is(network.named("section " + section + ": known"));
    }
    String breaker = district.get().key() + ": ";
    return all(
        is(network.named("section " + section + ": reported")),
        is(network.named(breaker + "known tripped")),
        not(network.named(breaker + "detected tripped")));
  }

  /** Each of some sections is clear. */
  Expression clear(List<String> sections) {
    return all(sections.stream().map(this::clear).toList());
  }

  /**
   * A switch is detected in a position and not in the other; where it has no detection, what is
   * taken for it.
   */
  Expression lies(String switchId, Position position) {
    String role = "switch " + switchId + ": ";
    if (!layout.switches().get(switchId).isDetected()) {
      return is(network.named(role + "lies " + position.word()));
    }
    return all(
        is(network.named(role + "detected " + position.word())),
        not(network.named(role + "detected " + position.opposite().word())));
  }

  /** A signal shows something better than Stop. */
  Variable proceeds(String signal) {
    return network.named("signal " + signal + ": proceeds");
  }

  /** A signal shows an aspect; empty where it never does. */
  Optional<Variable> shows(String signal, String aspect) {
    return network.find("signal " + signal + ": shows " + aspect);
  }

  /** The aspects that a signal can come to show, besides Stop. */
  List<String> aspects(Signal signal) {
    return signal.aspects().stream()
        .filter(aspect -> !aspect.equals(Signal.STOP))
        .filter(aspect -> shows(signal.id(), aspect).isPresent())
        .toList();
  }

  /** A switch, with all ends that move with it, is told to move to a position. */
  Optional<Variable> sent(String number, Position position) {
    return network.find("switch " + number + ": sent " + position.word());
  }

  /** A switch, with all ends that move with it, is told to move. */
  Expression sent(String number) {
    return any(
        Stream.of(Position.values())
            .flatMap(position -> sent(number, position).stream())
            .<Expression>map(Expression::is)
            .toList());
  }

  /** A switch is told to move to where not all of its ends lie. */
  Expression moves(String number) {
    List<Expression> moves = new ArrayList<>();
    for (Position position : Position.values()) {
      List<Expression> lie = ends(number).stream().map(end -> lies(end.id(), position)).toList();
      sent(number, position).ifPresent(sent -> moves.add(all(is(sent), not(all(lie)))));
    }
    return any(moves);
  }

  /** The numbers of the switches that a motor moves. */
  List<String> motors() {
    return layout.switches().values().stream()
        .map(Switch::number)
        .distinct()
        .filter(number -> sent(number, Position.NORMAL).isPresent())
        .toList();
  }

  /** All ends that move with a switch. */
  List<Switch> ends(String number) {
    return layout.switches().values().stream().filter(toe -> toe.number().equals(number)).toList();
  }

  /** An electric lock is told to release. */
  Optional<Variable> releases(String number) {
    return network.find("lock " + number + ": is told to release");
  }

  /** A road is warned; empty where nothing warns it. */
  Optional<Variable> warns(GradeCrossing crossing) {
    return network.find(crossing.key() + ": warns");
  }

  /** A road has been warned for its time. */
  Expression hasWarned(GradeCrossing crossing) {
    return any(warningTimes(crossing).stream().<Expression>map(time -> is(time.hasRun())).toList());
  }

  /** The times for which a road is warned before a train that has stood is let go. */
  List<Timer> warningTimes(GradeCrossing crossing) {
    return withRole(crossing.key() + ": warning time", network.timers());
  }

  /** A device of the wayside by its key is known to be in the first of two states. */
  Expression isDetected(String key, String state, String otherState) {
    return all(
        is(network.named(key + ": known " + state)),
        not(network.named(key + ": detected " + otherState)));
  }

  /** A variable that stands for a device of this layout. */
  Variable named(String name) {
    return network.named(name);
  }

  Optional<Variable> find(String name) {
    return network.find(name);
  }

  /**
   * The times that are run when a route over a way, or a lock on it, is to be released: those long
   * enough for a train to stop in, where the owner has said how long that is.
   */
  List<Timer> releaseTimes(Way way) {
    return times(way).stream().filter(this::isLongEnough).toList();
  }

  /** The times that are run while the signal of a way is at Stop and nobody has cancelled it. */
  List<Timer> stopTimes(Way way) {
    Expression atStop = not(proceeds(way.from().id()));
    return network.timers().stream()
        .filter(this::isLongEnough)
        .filter(
            timer ->
                network.equations().get(timer.running()) instanceof Expression.All all
                    && all.parts().contains(atStop))
        .toList();
  }

  private boolean isLongEnough(Timer timer) {
    return layout
        .trains()
        .stopWithin()
        .filter(time -> time.compareTo(timer.duration()) > 0)
        .isEmpty();
  }

  /** The time since the start has run, and is long enough. */
  Expression startIsOver() {
    Variable over = named("start: time has run");
    return any(
        network.timers().stream()
            .filter(timer -> timer.hasRun().equals(over))
            .filter(this::isLongEnough)
            .<Expression>map(timer -> is(over))
            .toList());
  }

  private List<Timer> times(Way way) {
    List<Timer> times = new ArrayList<>(routeTimes(way));
    way.legs().stream()
        .map(leg -> layout.switches().get(leg.switchId()).number())
        .distinct()
        .forEach(
            number ->
                times.addAll(withRole("lock " + number + ": release time", network.timers())));
    return times;
  }

  /** Without those that are named after another end, where one is named after this. */
  private List<Timer> routeTimes(Way way) {
    String route = "route " + way.from().id() + "-";
    List<Timer> fromSignal = timesAfterCancelling(way.from().id());
    if (withRole(route + way.end() + ": ", fromSignal).isEmpty()) {
      return fromSignal;
    }
    Set<String> otherEnds = new HashSet<>(layout.signals().keySet());
    otherEnds.addAll(layout.joints().keySet());
    otherEnds.remove(way.end());
    return fromSignal.stream()
        .filter(
            timer ->
                otherEnds.stream()
                    .noneMatch(end -> timer.hasRun().name().startsWith(route + end + ": ")))
        .toList();
  }

  /** A route has the owner's name, or that of its ends; its signal is the one that cancels it. */
  private List<Timer> timesAfterCancelling(String signal) {
    Optional<Variable> cancelled = network.find("signal " + signal + ": cancelled");
    return network.timers().stream()
        .filter(timer -> cancelled.filter(pulse -> isSetBy(pulse, timer.running())).isPresent())
        .toList();
  }

  private boolean isSetBy(Variable pulse, Variable latch) {
    return network.latches().containsKey(latch)
        && network.latches().get(latch).set() instanceof Expression.All all
        && all.parts().contains(is(pulse));
  }

  private static List<Timer> withRole(String role, List<Timer> timers) {
    return timers.stream().filter(timer -> timer.hasRun().name().startsWith(role)).toList();
  }
}
