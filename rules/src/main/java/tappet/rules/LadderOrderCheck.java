package tappet.rules;

import java.util.Map;
import java.util.Optional;
import java.util.Set;
import tappet.layout.Layout;
import tappet.layout.Lights;
import tappet.layout.Looks;
import tappet.source.Problems;

/**
 * Checks that what a signal shows beyond Stop is the most restrictive it can show at that speed: it
 * is what a signal with a failed lamp falls back to (49 CFR 236.23).
 */
final class LadderOrderCheck {

  private final Layout layout;
  private final ControlTable table;
  private final Problems problems;

  LadderOrderCheck(Layout layout, ControlTable table, Problems problems) {
    this.layout = layout;
    this.table = table;
    this.problems = problems;
  }

  /** The order is that of the looks, which is one for the whole railroad. */
  void check() {
    Optional<Looks> looks =
        layout.signals().values().stream()
            .flatMap(signal -> signal.lights().stream())
            .map(Lights::looks)
            .findFirst();
    looks.ifPresent(any -> table.ladders().values().forEach(ladder -> check(ladder, any)));
  }

  private void check(AspectLadder ladder, Looks looks) {
    Set<String> ranked = Set.copyOf(looks.restriction());
    ladder.beyond().entrySet().stream()
        .filter(rung -> ranked.contains(rung.getValue()) && ranked.contains(ladder.lowest()))
        .filter(rung -> looks.isBetter(ladder.lowest(), rung.getValue()))
        .findFirst()
        .ifPresent(rung -> note(ladder, rung));
  }

  private void note(AspectLadder ladder, Map.Entry<String, String> rung) {
    problems.add(
        ladder.place(),
        "the aspects of '%s' show %s beyond stop, which allows more than %s beyond %s"
            .formatted(ladder.speed(), ladder.lowest(), rung.getValue(), rung.getKey()),
        "let the most restrictive stand beyond stop, or put 'restriction' right in the layout"
            + " file");
  }
}
