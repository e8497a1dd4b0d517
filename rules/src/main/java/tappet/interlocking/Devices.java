package tappet.interlocking;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import tappet.interlocking.ChangedDevice.How;
import tappet.layout.DeviceEvents;
import tappet.network.Difference;
import tappet.network.Network;
import tappet.network.Variable;
import tappet.source.Place;

/** What has become of each device from one interlocking to another, and who depends on that. */
final class Devices {

  private final Map<String, ChangedDevice> changed = new LinkedHashMap<>();

  /** By route or signal that has not changed itself: a device that it depends on, which has. */
  private final Map<String, String> concerned = new LinkedHashMap<>();

  private final List<Difference> differences;
  private final Map<String, Place> places = new HashMap<>();
  private final Set<String> rewired = new LinkedHashSet<>();

  Devices(Interlocking before, Interlocking after) {
    differences = Difference.between(before.network(), after.network());
    notePlaces(before);
    notePlaces(after);
    noteRewired(DeviceEvents.of(before.layout()), DeviceEvents.of(after.layout()));
    Set<String> old = devices(before.network());
    Set<String> young = devices(after.network());
    for (Difference difference : differences) {
      note(Naming.deviceOf(difference.name()), old, young);
    }
    noteConcerned(before.network());
    noteConcerned(after.network());
  }

  /** Everything that is new, has changed or is gone. */
  Map<String, ChangedDevice> changed() {
    return changed;
  }

  /** By route or signal that has not changed itself: a device that it depends on, which has. */
  Map<String, String> concerned() {
    return concerned;
  }

  /** The variables of which the two do not say the same. */
  List<Difference> differences() {
    return differences;
  }

  /** Whether a device is heard or told by other events now. */
  boolean isRewired(String device) {
    return rewired.contains(device);
  }

  Optional<Place> place(String device) {
    return Optional.ofNullable(places.get(device));
  }

  private void noteRewired(Map<String, List<Object>> old, Map<String, List<Object>> young) {
    Stream.concat(old.keySet().stream(), young.keySet().stream())
        .distinct()
        .filter(device -> !Optional.ofNullable(old.get(device)).equals(found(young, device)))
        .forEach(
            device -> {
              boolean inBoth = old.containsKey(device) && young.containsKey(device);
              How how = young.containsKey(device) ? How.NEW : How.GONE;
              put(device, inBoth ? How.REWIRED : how);
              rewired.add(device);
            });
  }

  private static Optional<List<Object>> found(Map<String, List<Object>> events, String device) {
    return Optional.ofNullable(events.get(device));
  }

  private void note(String device, Set<String> old, Set<String> young) {
    if (!changed.containsKey(device)) {
      How how = old.contains(device) ? How.CHANGED : How.NEW;
      put(device, young.contains(device) ? how : How.GONE);
    }
  }

  private void put(String device, How how) {
    changed.put(device, new ChangedDevice(device, how, place(device)));
  }

  private static Set<String> devices(Network network) {
    Set<String> devices = new LinkedHashSet<>();
    network.variables().forEach(variable -> devices.add(Naming.deviceOf(variable.name())));
    return devices;
  }

  /** Who reads a variable that has changed, and whose own variables came or went in an equation. */
  private void noteConcerned(Network network) {
    Set<String> names = new LinkedHashSet<>();
    for (Difference difference : differences) {
      names.add(difference.name());
      String device = Naming.deviceOf(difference.name());
      difference.about().stream()
          .map(Naming::deviceOf)
          .filter(other -> other.startsWith(Naming.ROUTE))
          .forEach(route -> concern(route, device));
    }
    for (Variable variable : network.variables()) {
      for (Variable read : Difference.read(variable, network)) {
        String device = Naming.deviceOf(read.name());
        if (names.contains(read.name()) || rewired.contains(device)) {
          concern(Naming.deviceOf(variable.name()), device);
        }
      }
    }
  }

  private void concern(String device, String by) {
    boolean gives = device.startsWith(Naming.ROUTE) || device.startsWith(Naming.SIGNAL);
    if (gives && !changed.containsKey(device)) {
      concerned.putIfAbsent(device, by);
    }
  }

  /** A row of the rules says more of a device than its line in the layout. */
  private void notePlaces(Interlocking of) {
    var layout = of.layout();
    var table = of.table();
    layout.sections().forEach((id, it) -> places.put("section " + id, it.place()));
    layout.switches().forEach((id, it) -> places.put("switch " + id, it.place()));
    layout.switches().forEach((id, it) -> places.put("lock " + id, it.place()));
    layout.signals().forEach((id, it) -> places.put(Naming.SIGNAL + id, it.place()));
    var lineside = layout.lineside();
    lineside.devices().forEach(it -> places.put(it.key(), it.place()));
    table.routes().forEach((id, row) -> places.put(Naming.ROUTE + id, row.place()));
    table.lines().forEach((id, line) -> places.put("traffic " + id, line.place()));
    table.locks().forEach((id, rule) -> places.put("lock " + id, rule.place()));
    table
        .lineside()
        .crossings()
        .forEach((id, row) -> places.put(lineside.crossings().get(id).key(), row.place()));
    table
        .lineside()
        .indicators()
        .forEach(row -> places.put(lineside.lamps().get(row.lamp()).key(), row.place()));
    table
        .lineside()
        .requests()
        .forEach(row -> places.put(lineside.buttons().get(row.button()).key(), row.place()));
  }
}
