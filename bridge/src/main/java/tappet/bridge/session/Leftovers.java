package tappet.bridge.session;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import tappet.rules.RouteRow;

/**
 * The routes that a train has run over, for as long as anything of them is locked. One that stays
 * locked behind its train is in the way of others, and is cancelled.
 */
final class Leftovers {

  private static final long STALE_NS = TimeUnit.SECONDS.toNanos(60);
  private static final int IN_VAIN = 2;

  private final String train;
  private final Orders orders;
  private final List<Left> routes = new ArrayList<>();

  /**
   * A route that is left behind.
   *
   * @param sinceNs when it was left, or last cancelled
   */
  private record Left(RouteRow row, long sinceNs, int cancelled) {}

  Leftovers(String train, Orders orders) {
    this.train = train;
    this.orders = orders;
  }

  void add(List<RouteRow> rows, long nowNs) {
    rows.forEach(row -> routes.add(new Left(row, nowNs, 0)));
  }

  boolean isEmpty() {
    return routes.isEmpty();
  }

  /**
   * Forgets what is gone, and cancels what stays.
   *
   * @param inUse the routes that the train has been given anew
   * @param under the sections under the train
   */
  void follow(Sight sight, List<RouteRow> inUse, List<String> under) {
    routes.removeIf(
        left -> !sight.locked().contains(left.row().id()) || inUse.contains(left.row()));
    for (int index = 0; index < routes.size(); index++) {
      Left left = routes.get(index);
      boolean isLeft = under.size() <= 1 || under.stream().noneMatch(left.row().path()::contains);
      if (isLeft && !left.row().automatic() && sight.nowNs() - left.sinceNs() > STALE_NS) {
        routes.set(index, new Left(left.row(), sight.nowNs(), left.cancelled() + 1));
        Orders.tryTo(() -> orders.cancel(left.row(), train));
      }
    }
  }

  /**
   * One that has been cancelled in vain: its train came through unheard, its board silent, and now
   * stands in its last section, so that the box cannot tell it from one that still comes.
   */
  Optional<RouteRow> cancelledInVain() {
    return routes.stream().filter(left -> left.cancelled() > IN_VAIN).map(Left::row).findFirst();
  }
}
