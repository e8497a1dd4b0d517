package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.interlocking.Succession.Reason;
import tappet.layout.Signal;
import tappet.network.Latch;
import tappet.network.Variable;

/** Finds what is in use of all that has changed, or that depends on it. */
final class InUse {

  /** How latches go on that only remember what a device was told last. */
  private static final String CALLED = ": called ";

  private final Interlocking before;
  private final Devices devices;
  private final List<Reason> reasons = new ArrayList<>();

  InUse(Interlocking before, Devices devices) {
    this.before = before;
    this.devices = devices;
  }

  /** Each reason once, the first of a device only. */
  List<Reason> all() {
    Set<String> told = new LinkedHashSet<>();
    devices.changed().keySet().stream()
        .filter(this::isOld)
        .forEach(device -> note(device, changed(device).words(), told));
    devices.concerned().forEach((device, by) -> note(device, dependsOn(device, changed(by)), told));
    return List.copyOf(reasons);
  }

  private ChangedDevice changed(String device) {
    return devices.changed().get(device);
  }

  private boolean isOld(String device) {
    return changed(device).how() != ChangedDevice.How.NEW;
  }

  private static String dependsOn(String device, ChangedDevice by) {
    return "%s depends on %s, which %s".formatted(device, by.key(), by.how().words());
  }

  private void note(String device, String because, Set<String> told) {
    inUse(device)
        .filter(words -> told.add(device))
        .map(words -> words + ", and " + because)
        .ifPresent(words -> reasons.add(new Reason(words, devices.place(device), true)));
  }

  private Optional<String> inUse(String device) {
    if (device.startsWith(Naming.ROUTE)) {
      return routeInUse(device);
    }
    if (device.startsWith(Naming.SIGNAL)) {
      return signalInUse(device).or(() -> deviceInUse(device));
    }
    return devices.changed().containsKey(device) ? deviceInUse(device) : Optional.empty();
  }

  private Optional<String> routeInUse(String device) {
    String id = device.substring(Naming.ROUTE.length());
    if (before.table().routes().containsKey(id) && before.routeLocked(id)) {
      return Optional.of(device + " is locked");
    }
    return latchesOf(device).filter(this::hasLeftItsBeginning).map(this::words).findFirst();
  }

  private Optional<String> signalInUse(String device) {
    String id = device.substring(Naming.SIGNAL.length());
    return Optional.ofNullable(before.aspect(id))
        .filter(aspect -> !aspect.equals(Signal.STOP))
        .map(aspect -> device + " shows " + aspect);
  }

  private Optional<String> deviceInUse(String device) {
    return timeThatRuns(device).or(() -> latchInUse(device));
  }

  private Optional<String> timeThatRuns(String device) {
    return before.network().timers().stream()
        .filter(timer -> Naming.deviceOf(timer.running().name()).equals(device))
        .filter(before::runs)
        .map(timer -> "a time of " + device + " runs")
        .findFirst();
  }

  /** What was last told goes on being so; anything else that it remembers must be forgotten. */
  private Optional<String> latchInUse(String device) {
    return devices.differences().stream()
        .flatMap(difference -> difference.before().stream())
        .filter(variable -> Naming.deviceOf(variable.name()).equals(device))
        .map(before.network().latches()::get)
        .filter(latch -> latch != null && !latch.variable().name().contains(CALLED))
        .filter(this::hasLeftItsBeginning)
        .map(this::words)
        .findFirst();
  }

  private Stream<Latch> latchesOf(String device) {
    return before.network().latches().values().stream()
        .filter(latch -> Naming.deviceOf(latch.variable().name()).equals(device));
  }

  private boolean hasLeftItsBeginning(Latch latch) {
    return before.value(latch.variable()) != latch.initially();
  }

  private String words(Latch latch) {
    Variable variable = latch.variable();
    String words = variable.words().when(before.value(variable));
    return words.isEmpty() ? variable.name() : words;
  }
}
