package tappet.proof.mutants;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.function.Predicate;
import org.junit.jupiter.api.Test;
import tappet.network.Network;
import tappet.proof.Equivalence;
import tappet.proof.edit.RowsThatNeverMatter;
import tappet.proof.edit.RowsThatNeverMatter.Row;
import tappet.proof.track.Orders;
import tappet.proof.track.SafetyProperties;

/** Common practice, no source: what is never needed hides what is. */
class RowsThatNeverMatterTest {

  private static final SoundRailroad STARTER = SoundRailroad.named("starter");

  private static List<Row> rowsThatNeverMatter(SoundRailroad railroad, String rules) {
    Network network = railroad.compiled(rules).orElseThrow();
    Equivalence equivalence = Equivalence.with(SafetyProperties.of(railroad.layout(), network));
    Predicate<Network> sameOrders = other -> equivalence.isShown(other, Orders::isOne);
    return RowsThatNeverMatter.in(rules, railroad::compiled, sameOrders);
  }

  @Test
  void starterSaysNothingInVainButTimesThatAreSoAnyhow() {
    assertEquals(List.of(new Row(9, "times")), rowsThatNeverMatter(STARTER, STARTER.rules()));
  }

  // The ladders are drafted for every aspect that a next signal may have: here the main ones of the
  // loop's two entries are never followed by a signal that shows approach.
  @Test
  void linesOfALadderThatAreNeverCalledForAreFound() {
    SoundRailroad loop = SoundRailroad.named("crossing-loop");
    assertEquals(
        List.of("aspects, main, beyond approach", "aspects, diverging, beyond diverging-approach"),
        rowsThatNeverMatter(loop, loop.rules()).stream()
            .map(Row::words)
            .filter(words -> words.startsWith("aspects"))
            .toList());
  }

  @Test
  void needThatEachRouteHasAnyhowIsFound() {
    String rules =
        STARTER.rules()
            + """
            also:
              - {signal: w2e, needs: section switch is clear}
              - {signal: w2e, needs: section siding is clear}
            """;
    int line = (int) STARTER.rules().lines().count();
    assertEquals(
        List.of(new Row(line + 2, "also, signal w2e, needs section switch is clear")),
        rowsThatNeverMatter(STARTER, rules).stream().filter(row -> row.line() > line).toList());
  }
}
