package tappet.rules;

import java.util.List;
import java.util.Map;

/**
 * What the rule file says of lamps, buttons and grade crossings.
 *
 * @param indicators lamps that follow a condition
 * @param requests what buttons ask
 * @param crossings the rows of the grade crossings, by crossing
 */
public record LinesideTable(
    List<Indicator> indicators, List<ButtonRequest> requests, Map<String, CrossingRow> crossings) {

  /** Nothing of the kind. */
  public static final LinesideTable NONE = new LinesideTable(List.of(), List.of(), Map.of());
}
