package tappet.rules;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.source.Problems;
import tappet.source.Value;

/** How many signals ahead ladders look. Worked out by hand in each row. */
class AspectReachTest {

  @ParameterizedTest(name = "{0}")
  @CsvSource(
      delimiter = '|',
      value = {
        // one proceed aspect: nothing ahead matters but the row itself
        "{main: {beyond stop: approach, beyond approach: approach}} | 0",
        // approach or clear: the next signal, and it is enough to know whether it proceeds
        "{main: {beyond stop: approach, beyond approach: clear, beyond clear: clear}} | 1",
        // one more aspect in the sequence, one more signal
        "{main: {beyond stop: a, beyond a: b, beyond b: c, beyond c: c}} | 2",
        "{main: {beyond stop: a, beyond a: b, beyond b: c, beyond c: d, beyond d: d}} | 3",
        // two speeds that read each other
        "{main: {beyond stop: a, beyond a: c, beyond c: c, beyond d: m}, low: {beyond stop: d, beyond a: d, beyond c: d, beyond d: d}} | 1",
        // a rung that is not there is never needed, and so in no doubt
        "{main: {beyond stop: a, beyond a: c, beyond c: c}, end: {beyond stop: d}} | 1",
      })
  void ladderLooksAsFarAsItsSequenceIsLong(String aspects, int signals) {
    assertEquals(OptionalInt.of(signals), AspectReach.signalsAhead(ladders(aspects)));
  }

  // House rule: a ladder that does not bottom out at Stop is an error of the rule file.
  @ParameterizedTest(name = "{0}")
  @CsvSource(
      delimiter = '|',
      value = {
        "{main: {beyond stop: a, beyond a: b, beyond b: a}}",
        "{main: {beyond stop: a, beyond a: b, beyond b: c, beyond c: b}}",
        "{main: {beyond stop: a, beyond a: b, beyond b: b, beyond d: a}, low: {beyond stop: d, beyond a: d, beyond b: a, beyond d: b}}",
      })
  void ladderThatGoesOnWithoutEndHasNoReach(String aspects) {
    assertEquals(OptionalInt.empty(), AspectReach.signalsAhead(ladders(aspects)));
  }

  private static List<AspectLadder> ladders(String aspects) {
    var problems = new Problems();
    var ladders = new ArrayList<AspectLadder>();
    Value.ofFile("the aspects", "rules.yaml", aspects, problems)
        .named()
        .forEach(speed -> ladders.add(LadderReader.read(speed, problems)));
    assertEquals(List.of(), problems.sorted());
    return ladders;
  }
}
