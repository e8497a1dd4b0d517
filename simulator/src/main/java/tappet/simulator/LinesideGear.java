package tappet.simulator;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Predicate;
import tappet.layout.Joint;
import tappet.layout.Layout;
import tappet.layout.Lineside;
import tappet.layout.Opening;
import tappet.layout.Position;
import tappet.layout.PowerDistrict;
import tappet.layout.SpotDetector;
import tappet.lcc.EventId;

/**
 * What stands beside the track besides switches, detectors and signals: breakers, openings with
 * their bolts, lamps, buttons, spot detectors and grade crossings. It tells events as they happen.
 */
final class LinesideGear {

  private final Layout layout;
  private final Lineside devices;
  private final Consumer<EventId> tell;

  /** Bolts move as switches do: normal is locked. */
  private final Map<String, SwitchMachine> bolts = new LinkedHashMap<>();

  private final Set<String> tripped = new LinkedHashSet<>();
  private final Set<String> shorted = new LinkedHashSet<>();
  private final Set<String> open = new LinkedHashSet<>();
  private final Set<String> lit = new LinkedHashSet<>();
  private final Set<String> pressed = new LinkedHashSet<>();
  private final Set<String> warning = new LinkedHashSet<>();

  /** Spots that a train stands over. */
  private Set<String> covered = Set.of();

  /**
   * Power everywhere, openings closed and locked, lamps dark, buttons released; crossings warn
   * until they are told to rest.
   */
  LinesideGear(Layout layout, long boltNs, Consumer<EventId> tell) {
    this.layout = layout;
    this.devices = layout.lineside();
    this.tell = tell;
    devices.openings().values().stream()
        .filter(opening -> opening.lock().isPresent())
        .forEach(opening -> bolts.put(opening.id(), new SwitchMachine(boltNs)));
    warning.addAll(devices.crossings().keySet());
  }

  /** When the next bolt comes to rest. */
  OptionalLong deadlineNs() {
    OptionalLong first = OptionalLong.empty();
    for (SwitchMachine bolt : bolts.values()) {
      first = Deadlines.earlier(first, bolt.deadlineNs());
    }
    return first;
  }

  /** Moves the bolts up to now. */
  void advance(long nowNs) {
    bolts.forEach(
        (id, bolt) -> {
          if (bolt.advance(nowNs)) {
            bolt.lies().ifPresent(lies -> tell.accept(event(lock(id), lies)));
          }
        });
  }

  private static EventId event(Opening.Lock lock, Position lies) {
    return lies == Position.NORMAL ? lock.locked() : lock.unlocked();
  }

  private Opening.Lock lock(String opening) {
    return devices.openings().get(opening).lock().orElseThrow();
  }

  void trip(String district, boolean trips) {
    var breaker = Trackside.known("power district", district, devices.districts());
    if (trips ? tripped.add(district) : tripped.remove(district)) {
      tell.accept(trips ? breaker.tripped() : breaker.restored());
    }
  }

  /** The district whose breaker trips for a short that comes about. */
  Optional<String> shortOut(String section, boolean comes) {
    put(section, shorted, comes);
    return devices.districts().values().stream()
        .filter(district -> comes && district.sections().contains(section))
        .map(PowerDistrict::id)
        .findFirst();
  }

  /** A section with a short that keeps the breaker of a district from holding. */
  Optional<String> shortIn(String district) {
    return devices.districts().get(district).sections().stream()
        .filter(shorted::contains)
        .findFirst();
  }

  boolean isTripped(String district) {
    return tripped.contains(district);
  }

  boolean hasPower(String section) {
    return tripped.stream()
        .noneMatch(id -> devices.districts().get(id).sections().contains(section));
  }

  void open(String opening, boolean opens) {
    var leaf = Trackside.known("opening", opening, devices.openings());
    if (opens ? open.add(opening) : open.remove(opening)) {
      tell.accept(opens ? leaf.open() : leaf.closed());
    }
  }

  boolean isOpen(String opening) {
    return open.contains(opening);
  }

  boolean anyOpen() {
    return !open.isEmpty();
  }

  /** The open opening that a train on these sections has run into. */
  Optional<Opening> gapUnder(Collection<String> sections) {
    return open.stream()
        .map(devices.openings()::get)
        .filter(opening -> opening.sections().stream().anyMatch(sections::contains))
        .findFirst();
  }

  SwitchMachine bolt(String opening) {
    return Trackside.known("opening with a lock", opening, bolts);
  }

  void light(String lamp, boolean lights) {
    put(lamp, lit, lights);
  }

  boolean isLit(String lamp) {
    Trackside.known("lamp", lamp, devices.lamps());
    return lit.contains(lamp);
  }

  void press(String button, boolean presses) {
    var contact = Trackside.known("button", button, devices.buttons());
    if (presses ? pressed.add(button) : pressed.remove(button)) {
      tell.accept(presses ? contact.pressed() : contact.released());
    }
  }

  boolean isPressed(String button) {
    return pressed.contains(button);
  }

  void warn(String crossing, boolean warns) {
    put(crossing, warning, warns);
  }

  boolean isWarning(String crossing) {
    Trackside.known("grade crossing", crossing, devices.crossings());
    return warning.contains(crossing);
  }

  /** What these events drive has no power: lamps are dark, bolts stop, crossings warn. */
  void brownOut(Predicate<EventId> wiredTo, long nowNs) {
    devices.openings().values().stream()
        .filter(opening -> opening.told().values().stream().anyMatch(wiredTo))
        .filter(opening -> bolts.containsKey(opening.id()))
        .forEach(opening -> bolt(opening.id()).stop(nowNs));
    devices.lamps().values().stream()
        .filter(lamp -> wiredTo.test(lamp.lit()))
        .forEach(lamp -> lit.remove(lamp.id()));
    warnAll(wiredTo);
  }

  /** The crossings that these events drive warn. */
  void warnAll(Predicate<EventId> wiredTo) {
    devices.crossings().values().stream()
        .filter(crossing -> wiredTo.test(crossing.warn()))
        .forEach(crossing -> warning.add(crossing.id()));
  }

  private static void put(String id, Set<String> those, boolean in) {
    if (in) {
      those.add(id);
    } else {
      those.remove(id);
    }
  }

  /** Lets the spot detectors see the trains: each tells of a train when its front comes over it. */
  void see(Collection<Consist> consists) {
    Set<String> now = new LinkedHashSet<>();
    for (SpotDetector spot : devices.spots().values()) {
      consists.stream()
          .flatMap(consist -> consist.onwardsFrom(spot.at()).stream())
          .findFirst()
          .ifPresent(run -> see(spot, run, now));
    }
    covered = now;
  }

  private void see(SpotDetector spot, Run run, Set<String> now) {
    now.add(spot.id());
    if (!covered.contains(spot.id())) {
      var direction = headsEast(run) ? SpotDetector.EAST : SpotDetector.WEST;
      tell.accept(spot.tells().getOrDefault(direction, spot.tells().get(SpotDetector.PASSED)));
    }
  }

  private boolean headsEast(Run run) {
    Joint from = layout.joints().get(run.from());
    Joint towards = layout.joints().get(run.towards());
    return towards.x() >= from.x();
  }
}
