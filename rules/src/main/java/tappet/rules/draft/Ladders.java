package tappet.rules.draft;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.layout.Signal;

/**
 * Drafts the aspect ladders: those of route signalling (interlocking sheet, C.4), as far as the
 * signals have events for their aspects.
 *
 * <p>A signal that lacks an event shows something more restrictive instead, never something better,
 * and for that it gets a ladder of its own. One that lacks even the lowest aspect of a route cannot
 * signal it at all.
 */
final class Ladders {

  private static final String RESTRICTING = "restricting";
  private static final String APPROACH = "approach";
  private static final String CLEAR = "clear";
  private static final String APPROACH_DIVERGING = "approach-diverging";
  private static final String DIVERGING_APPROACH = "diverging-approach";
  private static final String DIVERGING_CLEAR = "diverging-clear";

  private static final String MAIN = "main";
  private static final String DIVERGING = "diverging";

  /** By speed and by what the next signal shows. */
  private static final Map<String, Map<String, String>> TABLE =
      Map.of(
          MAIN,
          Map.of(
              Signal.STOP,
              APPROACH,
              RESTRICTING,
              APPROACH,
              APPROACH,
              CLEAR,
              CLEAR,
              CLEAR,
              DIVERGING_APPROACH,
              APPROACH_DIVERGING,
              DIVERGING_CLEAR,
              APPROACH_DIVERGING,
              APPROACH_DIVERGING,
              CLEAR),
          DIVERGING,
          Map.of(
              Signal.STOP,
              DIVERGING_APPROACH,
              RESTRICTING,
              DIVERGING_APPROACH,
              APPROACH,
              DIVERGING_CLEAR,
              CLEAR,
              DIVERGING_CLEAR,
              DIVERGING_APPROACH,
              DIVERGING_CLEAR,
              DIVERGING_CLEAR,
              DIVERGING_CLEAR,
              APPROACH_DIVERGING,
              DIVERGING_CLEAR));

  /** The more restrictive aspect to show where there is no event for one. */
  private static final Map<String, String> INSTEAD =
      Map.of(
          CLEAR, APPROACH,
          APPROACH_DIVERGING, APPROACH,
          APPROACH, RESTRICTING,
          DIVERGING_CLEAR, DIVERGING_APPROACH,
          DIVERGING_APPROACH, RESTRICTING);

  /** The order in which rungs are written, from Stop upward. */
  private static final List<String> RUNGS =
      List.of(
          Signal.STOP,
          RESTRICTING,
          APPROACH,
          CLEAR,
          DIVERGING_APPROACH,
          DIVERGING_CLEAR,
          APPROACH_DIVERGING);

  private final Layout layout;
  private final Collection<DraftedRoute> routes;
  private final Map<String, Set<String>> lacking = new LinkedHashMap<>();
  private Map<String, Set<String>> shown = Map.of();

  Ladders(Collection<DraftedRoute> routes, Layout layout) {
    this.layout = layout;
    this.routes = routes;
    layout.signals().keySet().forEach(signal -> lacking.put(signal, new TreeSet<>()));
    do {
      shown = shown();
    } while (noteWhatIsLacking());
  }

  /** The aspects that a signal would come to show and has no event for, in order of their names. */
  Set<String> lackingOf(String signal) {
    return lacking.get(signal);
  }

  /** What is shown instead of {@code aspect} by a signal that lacks it. */
  Optional<String> insteadOf(String aspect, String signal) {
    return available(aspect, lacking.get(signal));
  }

  /** The lowest aspect of a route's speed, that of a train which must expect Stop. */
  String lowest(DraftedRoute route) {
    return TABLE.get(base(route)).get(Signal.STOP);
  }

  /** The speed of a route; empty where its signal lacks the lowest aspect. */
  Optional<String> speedOf(DraftedRoute route) {
    return beyond(Signal.STOP, route).map(lowest -> speed(route));
  }

  /** The ladders in use: by speed, what is shown beyond each aspect. */
  Map<String, Map<String, String>> used() {
    Set<String> rungs =
        routes.stream()
            .flatMap(route -> shown.getOrDefault(route.path().to(), Set.of()).stream())
            .collect(Collectors.toSet());
    rungs.add(Signal.STOP);
    Map<String, Map<String, String>> used = new LinkedHashMap<>();
    for (String base : List.of(MAIN, DIVERGING)) {
      routes.stream()
          .filter(route -> base(route).equals(base) && speedOf(route).isPresent())
          .forEach(route -> used.computeIfAbsent(speed(route), any -> ladder(route, rungs)));
    }
    return used;
  }

  private Map<String, String> ladder(DraftedRoute route, Set<String> rungs) {
    Map<String, String> ladder = new LinkedHashMap<>();
    for (String rung : RUNGS) {
      if (rungs.contains(rung)) {
        ladder.put(rung, beyond(rung, route).orElseThrow());
      }
    }
    return ladder;
  }

  /** The speed of a route before anything its signal lacks. */
  static String base(DraftedRoute route) {
    return route.isStraight() ? MAIN : DIVERGING;
  }

  private String speed(DraftedRoute route) {
    String base = base(route);
    String without =
        lacking.get(route.path().from()).stream()
            .filter(TABLE.get(base)::containsValue)
            .collect(Collectors.joining("-or-"));
    return without.isEmpty() ? base : base + "-without-" + without;
  }

  private Optional<String> beyond(String next, DraftedRoute route) {
    return available(TABLE.get(base(route)).get(next), lacking.get(route.path().from()));
  }

  private static Optional<String> available(String wanted, Set<String> lacking) {
    String aspect = wanted;
    while (aspect != null && lacking.contains(aspect)) {
      aspect = INSTEAD.get(aspect);
    }
    return Optional.ofNullable(aspect);
  }

  /** What each signal can come to show besides Stop, all round until nothing is added. */
  private Map<String, Set<String>> shown() {
    Map<String, Set<String>> aspects = new LinkedHashMap<>();
    layout.signals().keySet().forEach(signal -> aspects.put(signal, new LinkedHashSet<>()));
    boolean grown = true;
    while (grown) {
      grown = false;
      for (DraftedRoute route : routes) {
        Set<String> here = aspects.get(route.path().from());
        grown |= beyond(Signal.STOP, route).map(here::add).orElse(false);
        for (String next : List.copyOf(aspects.getOrDefault(route.path().to(), Set.of()))) {
          grown |= beyond(next, route).map(here::add).orElse(false);
        }
      }
    }
    return aspects;
  }

  private boolean noteWhatIsLacking() {
    boolean more = false;
    for (Signal signal : layout.signals().values()) {
      Set<String> missing = new TreeSet<>(shown.get(signal.id()));
      missing.removeAll(signal.shows().keySet());
      more |= lacking.get(signal.id()).addAll(missing);
    }
    return more;
  }
}
