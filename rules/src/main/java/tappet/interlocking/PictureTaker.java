package tappet.interlocking;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.Stream;
import tappet.interlocking.Picture.Holding;
import tappet.layout.Position;
import tappet.network.Stepper;
import tappet.network.Timers;
import tappet.network.Variable;
import tappet.sentence.Command.Heading;
import tappet.sentence.Condition.Occupancy;

/** Reads from the circuits what people see. It changes nothing. */
final class PictureTaker {

  private final Circuits circuits;
  private final Stepper stepper;
  private final Timers timers;
  private final LockHolders holders;

  PictureTaker(Circuits circuits, Stepper stepper, Timers timers, LockHolders holders) {
    this.circuits = circuits;
    this.stepper = stepper;
    this.timers = timers;
    this.holders = holders;
  }

  /**
   * Takes a picture.
   *
   * @param shows the aspect that the field was last told, by signal
   * @param dark whether its lights are out, by signal
   */
  Picture take(Function<String, String> shows, Predicate<String> dark, List<Protection> held) {
    LinesideCircuits lineside = circuits.lineside;
    return new Picture(
        each(circuits.sections, this::ofSection),
        each(circuits.switches, this::ofSwitch),
        each(
            circuits.signals,
            circuit ->
                ofSignal(
                    circuit, shows.apply(circuit.signal.id()), dark.test(circuit.signal.id()))),
        each(circuits.locks, this::ofLock),
        each(circuits.lines, this::way),
        each(
            lineside.openings,
            opening ->
                new Picture.OfOpening(
                    opening.closed(stepper),
                    opening.opening.lock().isPresent(),
                    opening.locked(stepper))),
        each(lineside.crossings, crossing -> is(crossing.warns)),
        each(lineside.districts, district -> district.isTripped(stepper)),
        each(lineside.lamps(), this::is),
        held);
  }

  private static <C, P> Map<String, P> each(Map<String, C> circuits, Function<C, P> pictured) {
    Map<String, P> all = new LinkedHashMap<>();
    circuits.forEach((id, circuit) -> all.put(id, pictured.apply(circuit)));
    return all;
  }

  private Picture.OfSection ofSection(SectionCircuit circuit) {
    return new Picture.OfSection(occupancy(circuit), routeOver(circuit.section.id()));
  }

  Occupancy occupancy(SectionCircuit circuit) {
    if (!is(circuit.known)) {
      return Occupancy.UNKNOWN;
    }
    return is(circuit.occupied) ? Occupancy.OCCUPIED : Occupancy.CLEAR;
  }

  private Optional<String> routeOver(String section) {
    Stream<Clearing> held =
        circuits.routesOver(section).stream()
            .filter(route -> is(route.holds(section)))
            .map(Clearing.class::cast);
    Stream<Clearing> automatic =
        circuits.automaticsOver(section).stream()
            .filter(way -> is(way.called))
            .map(Clearing.class::cast);
    return Stream.concat(held, automatic).findFirst().map(way -> way.row().id());
  }

  private Picture.OfSwitch ofSwitch(SwitchCircuit circuit) {
    return new Picture.OfSwitch(
        position(circuit),
        circuit.motor.flatMap(motor -> found(position -> is(motor.called(position)))),
        is(circuit.locked),
        circuits.ends(circuit.toe).stream()
            .flatMap(end -> end.alarms().stream())
            .anyMatch(this::is));
  }

  Optional<Position> position(SwitchCircuit circuit) {
    return found(position -> is(circuit.lies(position)));
  }

  private static Optional<Position> found(Predicate<Position> isIt) {
    return Stream.of(Position.values()).filter(isIt).findFirst();
  }

  private Picture.OfSignal ofSignal(SignalCircuit circuit, String shows, boolean dark) {
    List<RouteCircuit> routes = circuits.routesFrom(circuit.signal.id());
    Optional<RouteCircuit> lined =
        first(routes, route -> is(route.signalCalled) || is(route.cancelling));
    Optional<RouteCircuit> cancelled = lined.filter(route -> is(route.cancelling));
    return new Picture.OfSignal(
        shows,
        dark,
        lined.map(route -> route.row.id()),
        cancelled.isPresent(),
        cancelled.map(route -> timers.dueNs(route.cancelling)).orElse(OptionalLong.empty()),
        first(routes, route -> is(route.fleeted)).map(route -> route.row.id()),
        first(routes, route -> is(route.stacked)).map(route -> route.row.id()));
  }

  private static Optional<RouteCircuit> first(
      List<RouteCircuit> routes, Predicate<RouteCircuit> isIt) {
    return routes.stream().filter(isIt).findFirst();
  }

  private Picture.OfLock ofLock(ElectricLockCircuit circuit) {
    return new Picture.OfLock(
        holding(circuit),
        holders.of(circuit.toe.id()),
        is(circuit.releasing) ? timers.dueNs(circuit.releasing) : OptionalLong.empty());
  }

  private Holding holding(ElectricLockCircuit circuit) {
    if (is(circuit.released)) {
      return Holding.RELEASED;
    }
    if (is(circuit.releasing)) {
      return Holding.RELEASING;
    }
    return is(circuit.secured()) ? Holding.SECURED : Holding.UNKNOWN;
  }

  private Optional<Heading> way(TrafficCircuit circuit) {
    return Stream.of(Heading.values()).filter(heading -> is(circuit.lies(heading))).findFirst();
  }

  private boolean is(Variable variable) {
    return stepper.value(variable);
  }
}
