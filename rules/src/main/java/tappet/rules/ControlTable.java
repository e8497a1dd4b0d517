package tappet.rules;

import java.util.List;
import java.util.Map;

/**
 * The control table of a layout: one row a route, and whatever this railroad adds.
 *
 * @param times the times that hold for the whole railroad
 * @param routes the routes by id, in the order of the file
 * @param ladders the aspect ladders by speed
 * @param lines the lines between control points by id
 * @param needs what the owner demands of signals beside the rows
 * @param lights by signal: when it is lit, where that is not always
 * @param lineside what it says of lamps, buttons and grade crossings
 * @param locks how electric locks are released, by switch
 */
public record ControlTable(
    Times times,
    Map<String, RouteRow> routes,
    Map<String, AspectLadder> ladders,
    Map<String, TrafficLine> lines,
    List<SignalNeed> needs,
    Map<String, SignalLight> lights,
    LinesideTable lineside,
    Map<String, LockRule> locks) {

  /** The routes that start at {@code signal}, in the order of the file. */
  public List<RouteRow> routesFrom(String signal) {
    return routes.values().stream().filter(route -> route.from().equals(signal)).toList();
  }

  /** The ladder of a route's speed. */
  public AspectLadder ladderOf(RouteRow route) {
    return ladders.get(route.speed());
  }
}
