package tappet.simulator;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.stream.Stream;
import tappet.layout.ElectricLock;
import tappet.layout.LampProving;
import tappet.layout.Layout;
import tappet.layout.LockState;
import tappet.layout.Position;
import tappet.layout.Section;
import tappet.layout.Signal;
import tappet.layout.SignalKind;
import tappet.layout.SignalLamp;
import tappet.layout.Switch;
import tappet.layout.Track;
import tappet.lcc.EventId;

/**
 * What stands beside the track: switches, detectors and signals. It tells events as they happen.
 */
final class Trackside implements Road {

  private final Layout layout;
  private final Consumer<EventId> tell;
  private final Map<String, SwitchMachine> switches = new LinkedHashMap<>();
  private final Map<String, LockDevice> locks = new LinkedHashMap<>();
  private final Set<String> pressedOpen = new LinkedHashSet<>();
  private final Map<String, Detector> detectors = new LinkedHashMap<>();
  private final Set<Detector> flickering = new LinkedHashSet<>();
  private final Map<String, String> aspects = new LinkedHashMap<>();
  private final Map<String, LampPost> lampPosts = new LinkedHashMap<>();
  private final LinesideGear gear;

  /** Switches that lie normal, clear sections and signals at Stop. */
  Trackside(Layout layout, long throwNs, Consumer<EventId> tell) {
    this.layout = layout;
    this.tell = tell;
    layout.switches().keySet().forEach(id -> switches.put(id, new SwitchMachine(throwNs)));
    layout.switches().values().stream()
        .filter(toe -> toe.lock().isPresent())
        .forEach(toe -> locks.put(toe.id(), new LockDevice()));
    layout.sections().keySet().forEach(id -> detectors.put(id, new Detector()));
    layout.signals().keySet().forEach(id -> aspects.put(id, Signal.STOP));
    layout
        .signals()
        .forEach(
            (id, signal) ->
                signal.lights().ifPresent(lights -> lampPosts.put(id, new LampPost(lights))));
    gear = new LinesideGear(layout, throwNs, tell);
  }

  /** The other devices. */
  LinesideGear gear() {
    return gear;
  }

  /** A breaker trips, or power comes back. A detector without power tells that nothing is there. */
  void trip(String district, boolean trips) {
    gear.trip(district, trips);
    for (String section : layout.lineside().districts().get(district).sections()) {
      if (trips) {
        force(section, false);
      } else {
        unforce(section);
      }
    }
  }

  /**
   * Restores a breaker.
   *
   * @return empty if done, else which short keeps it from holding, in an owner's words
   */
  Optional<String> restore(String district) {
    Optional<String> shorted = gear.shortIn(district);
    if (shorted.isEmpty()) {
      trip(district, false);
    }
    return shorted.map(
        section ->
            "the breaker trips again: %s is shorted"
                .formatted(layout.sections().get(section).name()));
  }

  /** Metal comes to lie across the rails, or is taken away; the breaker stays as it is then. */
  void shortOut(String section, boolean shorted) {
    gear.shortOut(section, shorted).ifPresent(district -> trip(district, true));
  }

  /** When the next switch comes to lie, or a light comes to look other. */
  OptionalLong deadlineNs() {
    OptionalLong first = gear.deadlineNs();
    for (SwitchMachine machine : switches.values()) {
      first = Deadlines.earlier(first, machine.deadlineNs());
    }
    for (LampPost post : lampPosts.values()) {
      first = Deadlines.earlier(first, post.deadlineNs());
    }
    for (LockDevice lock : locks.values()) {
      first = Deadlines.earlier(first, lock.deadlineNs());
    }
    for (Detector detector : flickering) {
      first = Deadlines.earlier(first, detector.deadlineNs());
    }
    return first;
  }

  /** Moves switches and lights up to now; true if one has come to lie, or to look other. */
  boolean advance(long nowNs) {
    gear.advance(nowNs);
    boolean anyArrived = false;
    for (var entry : switches.entrySet()) {
      boolean arrived = entry.getValue().advance(nowNs);
      if (arrived) {
        tellPosition(entry.getKey());
      }
      anyArrived |= arrived;
    }
    for (LampPost post : lampPosts.values()) {
      anyArrived |= post.advance(nowNs);
    }
    locks.forEach((id, lock) -> advance(id, lock, nowNs));
    for (Detector detector : flickering) {
      if (detector.advance(nowNs)) {
        tellChanges();
      }
    }
    return anyArrived;
  }

  private void advance(String id, LockDevice lock, long nowNs) {
    if (lock.advance(nowNs, ends(id).allMatch(end -> switchLies(end.id()).isPresent()))) {
      tellLock(id);
    }
  }

  /** Calls a switch, and the ends of its crossover that are sent nothing of their own. */
  void call(String switchId, Position position, long nowNs) {
    ends(switchId)
        .filter(end -> end.id().equals(switchId) || end.to().isEmpty())
        .forEach(end -> machine(end.id()).call(position, nowNs));
  }

  void throwByHand(String switchId, Position position) {
    machine(switchId).throwByHand(position);
    tellPosition(switchId);
  }

  /**
   * Throws a switch by hand, with all that is joined to it by a rod, unless its lock holds it.
   *
   * @return empty if done, else why not, in an owner's words
   */
  Optional<String> throwByCrew(String switchId, Position position) {
    Switch toe = known("switch", switchId, layout.switches());
    LockDevice lock = locks.get(toe.number());
    if (lock != null && lock.state() == LockState.SECURED) {
      return Optional.of(toe.name() + " is held by its lock");
    }
    if (toe.control().hasMotor()) {
      return Optional.of(toe.name() + " has a motor and no lever");
    }
    ends(toe.number()).forEach(end -> throwByHand(end.id(), position));
    return Optional.empty();
  }

  private Stream<Switch> ends(String number) {
    return layout.switches().values().stream().filter(end -> end.number().equals(number));
  }

  void callLock(String switchId, LockState state, long nowNs) {
    lock(switchId).call(state, nowNs);
  }

  /** Draws the bolt of a lock without leave. */
  void breakLock(String switchId) {
    lock(switchId).breakOpen();
    tellLock(switchId);
  }

  LockDevice lock(String switchId) {
    return known("lock of switch", switchId, locks);
  }

  private ElectricLock lockOf(String switchId) {
    return layout.switches().get(switchId).lock().orElseThrow();
  }

  private void tellLock(String switchId) {
    var at = lockOf(switchId).at();
    Optional.ofNullable(at.get(lock(switchId).state())).ifPresent(tell);
  }

  /** A person works the control of a switch beside the track. */
  void ask(String switchId, Position position) {
    Switch toe = known("switch", switchId, layout.switches());
    tell.accept(known("control of switch", switchId + " " + position.word(), asks(toe)));
  }

  private static Map<String, EventId> asks(Switch toe) {
    Map<String, EventId> asks = new LinkedHashMap<>();
    toe.working()
        .asks()
        .forEach((position, event) -> asks.put(toe.id() + " " + position.word(), event));
    return asks;
  }

  /** Whether a train opens the switch of this leg itself. */
  boolean springsFor(Track.Leg leg) {
    return layout.switches().get(leg.switchId()).springsFor(leg.position());
  }

  /**
   * Lets trains press open the sprung switches they trail through, and springs close those that
   * they have left.
   */
  void press(Set<String> trailedThrough, long nowNs) {
    for (String id : trailedThrough) {
      if (pressedOpen.add(id)) {
        machine(id).pressOpen(nowNs);
        tellPosition(id);
      }
    }
    List<String> left = pressedOpen.stream().filter(id -> !trailedThrough.contains(id)).toList();
    left.forEach(id -> machine(id).call(Position.NORMAL, nowNs));
    left.forEach(pressedOpen::remove);
  }

  /** The derail that puts wheels off the rails at a joint. */
  private Optional<Track.Leg> derailAt(String joint) {
    return layout.switches().values().stream()
        .filter(toe -> toe.working().derail() && toe.points().equals(joint))
        .filter(toe -> machine(toe.id()).lay() == Position.NORMAL)
        .findFirst()
        .map(toe -> new Track.Leg(toe.id(), Position.REVERSE));
  }

  boolean isDerail(Track.Leg leg) {
    return layout.switches().get(leg.switchId()).working().derail();
  }

  void show(String signal, String aspect) {
    aspects.put(signal, aspect);
  }

  /** A lamp of a signal is told to be so. */
  void light(String signal, SignalLamp lamp, LampPost.State state, long nowNs) {
    lampPost(signal).told(lamp, state, nowNs);
  }

  LampPost lampPost(String signal) {
    return known("signal with lamps", signal, lampPosts);
  }

  /** A lamp burns out, or a new one is put in; its board tells if it can. */
  void burnOut(String signal, String lamp, boolean out, long nowNs) {
    LampProving proving = lampPost(signal).burnOut(lamp, out, nowNs);
    tell.accept(out ? proving.failed() : proving.works());
  }

  /**
   * Lets the detectors see which sections have a train in them. Those now occupied tell before
   * those now clear, as a train has its head in the next section before its rear leaves the last.
   */
  void see(Set<String> sectionsUnderTrains) {
    detectors.forEach((id, detector) -> detector.see(sectionsUnderTrains.contains(id)));
    tellChanges();
  }

  private void tellChanges() {
    tellChanges(true);
    tellChanges(false);
  }

  /** A detector keeps losing what stands there. */
  void flicker(String section, long nowNs) {
    detector(section).flicker(nowNs);
    flickering.add(detector(section));
    tellChanges();
  }

  /** A detector sees again what stands there. */
  void steady(String section) {
    detector(section).steady();
    flickering.remove(detector(section));
    tellChanges();
  }

  /**
   * The power of a board sinks too low for its outputs: the signals that it lights are dark, its
   * motors stop where they are, its electric locks fall home, and its crossings warn, as gates fall
   * that nothing holds up.
   *
   * @param wiredTo tells whether an event is the board's
   */
  void brownOut(Predicate<EventId> wiredTo, long nowNs) {
    layout.signals().values().stream()
        .filter(signal -> signal.shows().values().stream().anyMatch(wiredTo))
        .forEach(signal -> aspects.put(signal.id(), Wiring.DARK));
    lampPosts.forEach((id, post) -> post.lose(lamp -> wiredTo.test(lamp.lit()), nowNs));
    layout.switches().values().stream()
        .filter(toe -> toe.to().values().stream().anyMatch(wiredTo))
        .forEach(toe -> machine(toe.id()).stop(nowNs));
    locks.keySet().stream()
        .filter(id -> lockOf(id).to().values().stream().anyMatch(wiredTo))
        .forEach(id -> callLock(id, LockState.SECURED, nowNs));
    gear.brownOut(wiredTo, nowNs);
  }

  /**
   * What a board does that nobody watches over: its signals show Stop, its crossings warn.
   *
   * @param wiredTo tells whether an event is the board's
   */
  void fallToStop(Predicate<EventId> wiredTo, long nowNs) {
    layout.signals().values().stream()
        .filter(signal -> signal.shows().values().stream().anyMatch(wiredTo))
        .forEach(signal -> aspects.put(signal.id(), Signal.STOP));
    lampPosts.values().forEach(post -> post.showStop(lamp -> wiredTo.test(lamp.lit()), nowNs));
    gear.warnAll(wiredTo);
  }

  void force(String section, boolean occupied) {
    detector(section).force(occupied);
    tellChanges(occupied);
  }

  void unforce(String section) {
    detector(section).unforce();
    tellChanges(occupied(section));
  }

  /** A train has pressed the points over that lay against it, and broken what moves them. */
  void breakThrough(Track.Leg leg, long nowNs) {
    throwByHand(leg.switchId(), leg.position());
    machine(leg.switchId()).fail(nowNs);
  }

  SwitchMachine machine(String switchId) {
    return known("switch", switchId, switches);
  }

  Optional<Position> switchLies(String switchId) {
    return machine(switchId).lies();
  }

  /** Whether the switch is known to lie for the leg. */
  boolean liesFor(Track.Leg leg) {
    return switchLies(leg.switchId()).filter(leg.position()::equals).isPresent();
  }

  String aspect(String signal) {
    LampPost post = lampPosts.get(signal);
    return post == null ? known("signal", signal, aspects) : post.aspect();
  }

  /** What the detector tells, which a fault can make another thing than the truth. */
  boolean occupied(String section) {
    return detector(section).occupied();
  }

  @Override
  public Optional<Run.Exit> beyond(Run run) {
    return run.exits().stream().filter(exit -> wheelsGoTo(exit.run())).findFirst();
  }

  /** A repeater at Stop stops nobody: it tells of the signal ahead. */
  @Override
  public Optional<Track.Leg> derailBeyond(Run run) {
    return derailAt(run.towards());
  }

  @Override
  public AspectSpeed speedBy(String signal) {
    AspectSpeed speed = AspectSpeed.of(aspect(signal));
    boolean repeater = layout.signals().get(signal).repeats().isPresent();
    return repeater && speed == AspectSpeed.STOP ? AspectSpeed.APPROACH : speed;
  }

  @Override
  public boolean isStopAndProceed(String signal) {
    return layout.signals().get(signal).kind() == SignalKind.AUTOMATIC;
  }

  private boolean wheelsGoTo(Run next) {
    return next.facing().stream().allMatch(leg -> machine(leg.switchId()).lay() == leg.position());
  }

  private void tellPosition(String switchId) {
    var at = layout.switches().get(switchId).at();
    switchLies(switchId).flatMap(lies -> Optional.ofNullable(at.get(lies))).ifPresent(tell);
  }

  private void tellChanges(boolean toOccupied) {
    detectors.forEach(
        (id, detector) -> {
          if (detector.occupied() == toOccupied && detector.hasChanged()) {
            Section section = layout.sections().get(id);
            tell.accept(toOccupied ? section.occupied() : section.clear());
          }
        });
  }

  private Detector detector(String section) {
    return known("section", section, detectors);
  }

  /** The device of that name, which must be there. */
  static <T> T known(String kind, String id, Map<String, T> all) {
    T found = all.get(id);
    if (found == null) {
      throw new IllegalArgumentException(
          "no %s '%s', expected one of %s".formatted(kind, id, all.keySet()));
    }
    return found;
  }
}
