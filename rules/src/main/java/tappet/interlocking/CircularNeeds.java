package tappet.interlocking;

import java.util.List;
import java.util.stream.Collectors;
import tappet.layout.Layout;
import tappet.network.CircularEquationException;
import tappet.network.Variable;
import tappet.rules.ControlTable;
import tappet.rules.RouteRow;
import tappet.rules.SignalNeed;
import tappet.source.Place;
import tappet.source.Problems;

/** Finds owner's needs by which signals wait for each other without end. */
public final class CircularNeeds {

  private CircularNeeds() {}

  /** Whether the table compiles; notes the circle where it does not. */
  public static boolean none(Layout layout, ControlTable table, Problems problems) {
    try {
      new Circuits(layout, table);
      return true;
    } catch (CircularEquationException e) {
      problems.add(
          firstNeed(table),
          "needs go round in a circle: " + chain(e.circle()),
          "let one of these signals do without the other");
      return false;
    }
  }

  private static String chain(List<Variable> circle) {
    return circle.stream().map(Variable::name).collect(Collectors.joining(" needs "));
  }

  /** Only needs that name a signal's aspect can close a circle; the first of them is shown. */
  private static Place firstNeed(ControlTable table) {
    return table.needs().stream()
        .map(SignalNeed::place)
        .findFirst()
        .or(
            () ->
                table.routes().values().stream()
                    .filter(row -> row.needs().isPresent())
                    .map(RouteRow::place)
                    .findFirst())
        .orElseThrow();
  }
}
