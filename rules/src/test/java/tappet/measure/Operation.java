package tappet.measure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.PriorityQueue;
import java.util.Random;
import java.util.Set;
import tappet.interlocking.Input;
import tappet.interlocking.Interlocking;
import tappet.interlocking.Output;
import tappet.interlocking.Step;
import tappet.layout.Layout;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Signal;
import tappet.layout.TrackPlan;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.sentence.Command;
import tappet.sentence.Condition.Occupancy;
import tappet.source.Place;

/**
 * An operation to measure by: trains that each ask for a route, wait for the signal, run over it
 * section by section and go on from there, for ever and wherever chance takes them. Two of them to
 * a group of stations. The same seed gives the same operation, always.
 */
final class Operation {

  private static final int SECTIONS_A_TRAIN = 7;
  private static final long SECOND_NS = 1_000_000_000L;
  private static final long THROW_NS = SECOND_NS;
  private static final long PATIENCE_NS = 5 * SECOND_NS;
  private static final Place NOWHERE = new Place("operation", 1, 1);

  private record Event(long atNs, long sequence, Runnable action) {}

  private final Layout layout;
  private final ControlTable table;
  private final Interlocking interlocking;
  private final Random random;
  private final Map<String, List<RouteRow>> departures = new LinkedHashMap<>();
  private final Set<String> occupied = new HashSet<>();
  private final PriorityQueue<Event> events =
      new PriorityQueue<>(Comparator.comparingLong(Event::atNs).thenComparingLong(Event::sequence));

  private List<FieldTape.Moment> tape = new ArrayList<>();
  private long sequence;
  private long nowNs;

  private Operation(Layout layout, ControlTable table, long seed) {
    this.layout = layout;
    this.table = table;
    this.interlocking = new Interlocking(layout, table);
    this.random = new Random(seed);
    TrackPlan plan = new TrackPlan(layout);
    layout.signals().values().forEach(signal -> noteDepartures(signal, plan, table));
  }

  /** Lets trains run until the interlocking has been told {@code inputs} times. */
  static FieldTape tape(Layout layout, ControlTable table, long seed, int inputs) {
    return new Operation(layout, table, seed).run(inputs);
  }

  private FieldTape run(int inputs) {
    interlocking.start(nowNs);
    placeTrains();
    reportAll();
    List<FieldTape.Moment> opening = tape;
    tape = new ArrayList<>();
    nowNs += 60 * SECOND_NS;
    while (tape.size() < inputs) {
      Event next = events.remove();
      nowNs = Math.max(nowNs, next.atNs());
      next.action().run();
    }
    return new FieldTape(opening, tape.subList(0, inputs));
  }

  /** A train that stands before a signal may leave by any route from there. */
  private void noteDepartures(Signal signal, TrackPlan plan, ControlTable table) {
    plan.tracksAt(signal.at()).stream()
        .map(track -> track.section())
        .filter(section -> !section.equals(signal.into()))
        .distinct()
        .forEach(
            section ->
                departures
                    .computeIfAbsent(section, any -> new ArrayList<>())
                    .addAll(table.routesFrom(signal.id())));
  }

  /** None stands between control points at first, since nobody would know which way it runs. */
  private void placeTrains() {
    List<String> platforms = new ArrayList<>(departures.keySet());
    table.lines().values().forEach(line -> platforms.removeAll(line.sections()));
    int trains = Math.max(1, layout.sections().size() / SECTIONS_A_TRAIN);
    for (int number = 0; number < trains; number++) {
      String section = platforms.remove(random.nextInt(platforms.size()));
      occupied.add(section);
      after(random.nextLong(10 * SECOND_NS), () -> ask(section));
    }
  }

  private void reportAll() {
    Optional<Boolean> no = Optional.of(false);
    Optional<Boolean> yes = Optional.of(true);
    layout.lineside().districts().keySet().forEach(id -> tell(new Input.DistrictReport(id, no)));
    layout.lineside().openings().keySet().forEach(id -> tell(new Input.OpeningReport(id, yes)));
    layout.lineside().openings().keySet().forEach(id -> tell(new Input.BoltReport(id, yes)));
    layout.switches().values().stream()
        .filter(toe -> toe.lock().isPresent())
        .forEach(toe -> tell(new Input.LockReport(toe.id(), Optional.of(LockState.SECURED))));
    layout.sections().keySet().forEach(section -> report(section, occupied.contains(section)));
    layout.switches().keySet().forEach(id -> tell(detected(id, Optional.of(Position.NORMAL))));
  }

  private void ask(String section) {
    List<RouteRow> open = departures.get(section).stream().filter(this::isOpen).toList();
    if (open.isEmpty()) {
      askLater(section);
      return;
    }
    RouteRow route = open.get(random.nextInt(open.size()));
    if (route.automatic()) {
      passAutomatic(section, route);
      return;
    }
    Step step = tell(new Input.Request(line(route)));
    if (step.answer().orElseThrow().granted()) {
      after(2 * THROW_NS, () -> depart(section, route));
    } else {
      askLater(section);
    }
  }

  /** Nobody lines it: the train goes when its signal clears. */
  private void passAutomatic(String section, RouteRow route) {
    if (interlocking.aspect(route.from()).equals(Signal.STOP)) {
      askLater(section);
    } else {
      enter(section, route.path());
    }
  }

  private static Command line(RouteRow route) {
    return new Command.Line(route.from(), route.to(), NOWHERE, NOWHERE);
  }

  private boolean isOpen(RouteRow route) {
    return route.path().stream().noneMatch(occupied::contains);
  }

  private void askLater(String section) {
    after(SECOND_NS + random.nextLong(9 * SECOND_NS), () -> ask(section));
  }

  /** A route that another train was faster to is asked for anew by {@link #ask}. */
  private void depart(String section, RouteRow route) {
    if (!interlocking.routeLocked(route.id())) {
      ask(section);
    } else if (interlocking.aspect(route.from()).equals(Signal.STOP)) {
      after(PATIENCE_NS, () -> askAgain(section, route));
    } else {
      enter(section, route.path());
    }
  }

  /** A signal that has dropped before its train must be asked for once more. */
  private void askAgain(String section, RouteRow route) {
    tell(new Input.Request(line(route)));
    depart(section, route);
  }

  private void enter(String behind, List<String> ahead) {
    if (ahead.isEmpty()) {
      askLater(behind);
      return;
    }
    String next = ahead.get(0);
    report(next, true);
    after(
        SECOND_NS + random.nextLong(3 * SECOND_NS),
        () -> {
          report(behind, false);
          enter(next, ahead.subList(1, ahead.size()));
        });
  }

  private void report(String section, boolean isOccupied) {
    if (isOccupied) {
      occupied.add(section);
    } else {
      occupied.remove(section);
    }
    Occupancy occupancy = isOccupied ? Occupancy.OCCUPIED : Occupancy.CLEAR;
    tell(new Input.SectionReport(section, occupancy));
  }

  private Step tell(Input input) {
    tape.add(new FieldTape.Moment(nowNs, input));
    Step step = interlocking.step(input, nowNs);
    step.outputs().forEach(this::move);
    return step;
  }

  /** A switch leaves its position at once and is detected in the other after its throw. */
  private void move(Output output) {
    if (output instanceof Output.Throw move
        && !interlocking.position(move.switchId()).equals(Optional.of(move.position()))) {
      after(0, () -> tell(detected(move.switchId(), Optional.empty())));
      after(THROW_NS, () -> tell(detected(move.switchId(), Optional.of(move.position()))));
    }
  }

  private static Input detected(String switchId, Optional<Position> position) {
    return new Input.SwitchReport(switchId, position);
  }

  private void after(long delayNs, Runnable action) {
    events.add(new Event(nowNs + delayNs, sequence++, action));
  }
}
