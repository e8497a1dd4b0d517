package tappet.interlocking;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Routes, or ways beyond automatic signals, by what they have to do with, each list in the order of
 * the table: who asks about one device must not have to look at every route of a large railroad.
 */
final class RouteIndex<C extends Clearing> {

  private final Map<String, List<C>> from = new LinkedHashMap<>();
  private final Map<String, List<C>> over = new LinkedHashMap<>();
  private final Map<String, List<C>> setting = new LinkedHashMap<>();

  void add(C route) {
    note(from, route.row().from(), route);
    route.row().path().forEach(section -> note(over, section, route));
    Set<String> switches = new LinkedHashSet<>(route.row().switches().keySet());
    switches.addAll(route.row().flank().keySet());
    switches.forEach(id -> note(setting, id, route));
  }

  /** The routes that start at a signal. */
  List<C> from(String signal) {
    return from.getOrDefault(signal, List.of());
  }

  /** The routes that run over a section. */
  List<C> over(String section) {
    return over.getOrDefault(section, List.of());
  }

  /** The routes that need a switch to lie somewhere, on their path or beside it. */
  List<C> setting(String switchId) {
    return setting.getOrDefault(switchId, List.of());
  }

  private void note(Map<String, List<C>> index, String device, C route) {
    index.computeIfAbsent(device, any -> new ArrayList<>()).add(route);
  }
}
