package tappet.rules;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import tappet.layout.Track;
import tappet.layout.TrackPlan;

/**
 * The control table of a layout: one row a route, and whatever this railroad adds.
 *
 * @param times the times that hold for the whole railroad
 * @param routes the routes by id, in the order of the file
 * @param ladders the aspect ladders by speed
 * @param lines the lines between control points by id
 * @param needs what the owner demands of devices beside the rows
 * @param lights by signal: when it is lit, where that is not always
 * @param lineside what it says of lamps, buttons and grade crossings
 * @param locks how electric locks are released, by switch
 * @param flags where switches are to lie for blue flags, as far as the owner says so
 */
public record ControlTable(
    Times times,
    Map<String, RouteRow> routes,
    Map<String, AspectLadder> ladders,
    Map<String, TrafficLine> lines,
    List<OwnersNeed> needs,
    Map<String, SignalLight> lights,
    LinesideTable lineside,
    Map<String, LockRule> locks,
    List<FlagRow> flags) {

  /** The switches that lead away from a section while it is under a blue flag. */
  public List<Track.Leg> linedAwayFrom(String section, TrackPlan plan) {
    return flags.stream()
        .filter(row -> row.section().equals(section))
        .findFirst()
        .map(ControlTable::legs)
        .orElseGet(() -> LinedAway.from(section, plan));
  }

  private static List<Track.Leg> legs(FlagRow row) {
    return row.switches().entrySet().stream()
        .map(entry -> new Track.Leg(entry.getKey(), entry.getValue()))
        .toList();
  }

  /** The routes that start at {@code signal}, in the order of the file. */
  public List<RouteRow> routesFrom(String signal) {
    return routes.values().stream().filter(route -> route.from().equals(signal)).toList();
  }

  /**
   * The signals from which trains run away from a row: the one it leads to, and those to which they
   * come from there without leaving what the row keeps clear beyond its way.
   */
  public Set<String> signalsBeyond(RouteRow row) {
    Set<String> beyond = new LinkedHashSet<>();
    addBeyond(row.to(), row.alsoClear(), beyond);
    return beyond;
  }

  private void addBeyond(String signal, List<String> keptClear, Set<String> beyond) {
    if (beyond.add(signal) && !keptClear.isEmpty()) {
      routesFrom(signal).stream()
          .filter(onwards -> keptClear.containsAll(onwards.path()))
          .forEach(onwards -> addBeyond(onwards.to(), keptClear, beyond));
    }
  }

  /** The ladder of a route's speed. */
  public AspectLadder ladderOf(RouteRow route) {
    return ladders.get(route.speed());
  }
}
