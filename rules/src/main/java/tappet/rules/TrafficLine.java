package tappet.rules;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.sentence.Command.Heading;
import tappet.source.Place;

/**
 * Track between control points over which trains run one way at a time (49 CFR 236.769).
 *
 * @param id the owner's name for it
 * @param sections its sections, from one end to the other
 * @param signals by the way they lead over it: the signals; none for a way that trains never take
 * @param place where it stands in the rule file
 */
public record TrafficLine(
    String id, Set<String> sections, Map<Heading, List<String>> signals, Place place) {

  /** Which way a route runs over the line; empty where it does not. */
  public Optional<Heading> headingOf(RouteRow row) {
    return touches(row.path())
        ? signals.keySet().stream()
            .filter(heading -> signals.get(heading).contains(row.from()))
            .findFirst()
        : Optional.empty();
  }

  /** Whether trains run over it both ways. */
  public boolean bothWays() {
    return signals.values().stream().noneMatch(List::isEmpty);
  }

  /** Whether any of {@code path} belongs to the line. */
  boolean touches(List<String> path) {
    return path.stream().anyMatch(sections::contains);
  }
}
