package tappet.interlocking;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tappet.network.Variable;
import tappet.rules.ControlTable;
import tappet.rules.OwnersNeed;
import tappet.rules.RouteRow;
import tappet.source.Place;
import tappet.source.Problems;

/** Tells owners' needs by which signals wait for each other without end. */
final class CircularNeeds {

  private static final String SIGNAL = "signal ";

  private CircularNeeds() {}

  /** Notes the circle where it begins in the table. */
  static void note(List<Variable> circle, ControlTable table, Problems problems) {
    List<String> signals = signalsOf(circle);
    problems.add(
        firstNeed(table, signals),
        "needs go round in a circle: " + chain(signals),
        "let one of these signals do without the other");
  }

  /** The circle runs over routes and signals in turn; owners' needs name signals. */
  private static List<String> signalsOf(List<Variable> circle) {
    return circle.stream()
        .map(Variable::name)
        .filter(name -> name.startsWith(SIGNAL))
        .map(name -> name.substring(SIGNAL.length(), name.indexOf(':')))
        .distinct()
        .toList();
  }

  private static String chain(List<String> signals) {
    return signals.size() == 1
        ? "signal " + signals.get(0) + " waits for itself"
        : "signal "
            + signals.get(0)
            + Stream.concat(signals.stream().skip(1), signals.stream().limit(1))
                .map(signal -> " waits for " + signal)
                .collect(Collectors.joining(", which"));
  }

  private static Place firstNeed(ControlTable table, List<String> signals) {
    return table.needs().stream()
        .filter(need -> need.of() == OwnersNeed.Of.SIGNAL && signals.contains(need.id()))
        .map(OwnersNeed::place)
        .findFirst()
        .or(() -> firstRowWithNeed(table, signals))
        .orElseThrow();
  }

  private static Optional<Place> firstRowWithNeed(ControlTable table, List<String> signals) {
    return table.routes().values().stream()
        .filter(row -> row.needs().isPresent() && signals.contains(row.from()))
        .map(RouteRow::place)
        .findFirst();
  }
}
