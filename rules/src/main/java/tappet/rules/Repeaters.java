package tappet.rules;

import java.util.Optional;
import tappet.layout.Layout;
import tappet.layout.Signal;
import tappet.source.Problems;
import tappet.source.YamlNode;

/** Refuses rows that start or end at a repeater, which governs nothing. */
final class Repeaters {

  private final Layout layout;
  private final Problems problems;

  Repeaters(Layout layout, Problems problems) {
    this.layout = layout;
    this.problems = problems;
  }

  /** Whether a row names a repeater; notes it where it does. */
  boolean isNamed(Optional<YamlNode.Text> end) {
    Optional<Signal> repeater =
        end.map(text -> layout.signals().get(text.value()))
            .filter(signal -> signal.repeats().isPresent());
    repeater.ifPresent(
        signal ->
            problems.add(
                end.orElseThrow().place(),
                "signal %s is a repeater; no route starts or ends there".formatted(signal.id()),
                "name the signal it repeats: '%s'".formatted(signal.repeats().orElseThrow())));
    return repeater.isPresent();
  }
}
