package tappet.rules;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import tappet.layout.Signal;

/**
 * How far aspect ladders reach: how many signals ahead matter, and what a signal can come to show.
 */
public final class AspectReach {

  private AspectReach() {}

  /**
   * How many signals ahead must be known before it no longer matters what lies beyond them. At that
   * distance every proceed aspect may be taken for the lowest of its speed: a closed loop of track
   * still gives equations without a circle.
   *
   * @return empty if the ladders do not bottom out: some aspect goes on depending on signals
   *     without end
   */
  public static OptionalInt signalsAhead(Collection<AspectLadder> ladders) {
    Map<String, Set<String>> doubts = doubtsAtTheHorizon(ladders);
    int aspects = ladders.stream().mapToInt(ladder -> ladder.beyond().size() + 1).sum();
    for (int signals = 0; signals <= aspects * aspects; signals++) {
      if (doubts.isEmpty()) {
        return OptionalInt.of(signals);
      }
      doubts = oneSignalNearer(doubts, ladders);
    }
    return OptionalInt.empty();
  }

  /** By what a signal is taken to show: what else it may show. */
  private static Map<String, Set<String>> doubtsAtTheHorizon(Collection<AspectLadder> ladders) {
    Map<String, Set<String>> doubts = new LinkedHashMap<>();
    for (AspectLadder ladder : ladders) {
      for (String aspect : ladder.beyond().values()) {
        note(Optional.of(ladder.lowest()), Optional.of(aspect), doubts);
      }
    }
    return doubts;
  }

  private static Map<String, Set<String>> oneSignalNearer(
      Map<String, Set<String>> doubts, Collection<AspectLadder> ladders) {
    Map<String, Set<String>> nearer = new LinkedHashMap<>();
    doubts.forEach(
        (taken, others) -> {
          for (AspectLadder ladder : ladders) {
            Optional<String> one = ladder.aspectBeyond(taken);
            others.forEach(other -> note(one, ladder.aspectBeyond(other), nearer));
          }
        });
    return nearer;
  }

  /** A ladder without a rung is on no route beyond which that aspect can be shown. */
  private static void note(
      Optional<String> one, Optional<String> other, Map<String, Set<String>> doubts) {
    if (one.isPresent() && other.isPresent() && !one.equals(other)) {
      doubts.computeIfAbsent(one.get(), taken -> new LinkedHashSet<>()).add(other.get());
    }
  }

  /** What each signal that a route starts at can come to show, besides Stop. */
  public static Map<String, Set<String>> aspectsOf(ControlTable table) {
    Map<String, Set<String>> aspects = new LinkedHashMap<>();
    table.routes().values().forEach(row -> aspects.put(row.from(), new LinkedHashSet<>()));
    boolean grown = true;
    while (grown) {
      grown = false;
      for (RouteRow row : table.routes().values()) {
        grown |= aspects.get(row.from()).addAll(aspectsFor(row, table, aspects));
      }
    }
    return aspects;
  }

  /** What lies beyond a route: Stop, and whatever its next signal can show. */
  public static Set<String> beyond(RouteRow row, Map<String, Set<String>> aspects) {
    Set<String> beyond = new LinkedHashSet<>(Set.of(Signal.STOP));
    row.nextSignal().ifPresent(next -> beyond.addAll(aspects.getOrDefault(next, Set.of())));
    return beyond;
  }

  private static Set<String> aspectsFor(
      RouteRow row, ControlTable table, Map<String, Set<String>> aspects) {
    AspectLadder ladder = table.ladderOf(row);
    Set<String> shown = new LinkedHashSet<>();
    for (String next : beyond(row, aspects)) {
      ladder.aspectBeyond(next).ifPresent(shown::add);
    }
    row.callOn().ifPresent(shown::add);
    return shown;
  }
}
