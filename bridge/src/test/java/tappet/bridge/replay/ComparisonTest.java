package tappet.bridge.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tappet.bridge.replay.Comparison.Finding;
import tappet.bridge.replay.Comparison.Output;
import tappet.layout.Layout;
import tappet.lcc.EventId;

/** What is said then and now, put side by side. Common practice, no source. */
class ComparisonTest {

  private static final long TOLERANCE_US = 100;

  private static Layout layout;

  @BeforeAll
  static void readDemo() throws Exception {
    layout = RecordedRehearsal.layout();
  }

  @Test
  void theSameWithinTheToleranceIsNoDifference() {
    Comparison comparison = comparison(then(1_000, "t2e", "clear"), then(5_000, "t2e", "stop"));
    comparison.says(event("t2e", "clear"), 1_100, 1);
    comparison.says(event("t2e", "stop"), 4_900, 2);
    assertEquals(List.of(), end(comparison));
    assertEquals(2, comparison.matched());
    assertEquals(100, comparison.furthestUs());
  }

  @Test
  void beyondTheToleranceItIsMissingThenAndMoreNow() {
    Comparison comparison = comparison(then(1_000, "t2e", "clear"));
    comparison.pass(1_101);
    comparison.says(event("t2e", "clear"), 1_101, 1);
    assertEquals(List.of("t2e: clear, nothing", "t2e: nothing, clear"), end(comparison));
  }

  @Test
  void otherAspectIsOneDifference() {
    Comparison comparison = comparison(then(1_000, "t2e", "clear"));
    comparison.says(event("t2e", "approach"), 1_000, 1);
    assertEquals(List.of("t2e: clear, approach"), end(comparison));
  }

  @Test
  void whatIsLeftOutDoesNotPutWhatFollowsOutOfStep() {
    Comparison comparison =
        comparison(
            then(1_000, "t2e", "clear"),
            then(1_010, "t2e", "approach"),
            then(9_000, "t2e", "stop"));
    comparison.says(event("t2e", "approach"), 1_010, 1);
    comparison.says(event("t2e", "stop"), 9_000, 1);
    assertEquals(List.of("t2e: clear, nothing"), end(comparison));
  }

  @Test
  void orderAtOneMomentCounts() {
    Comparison comparison = comparison(then(1_000, "t2e", "stop"), then(1_000, "t4e", "clear"));
    comparison.says(event("t4e", "clear"), 1_000, 1);
    comparison.says(event("t2e", "stop"), 1_000, 1);
    assertEquals(
        List.of(
            "t2e: stop, before signal Tilling 4E (t4e): clear,"
                + " stop, after signal Tilling 4E (t4e): clear"),
        end(comparison));
  }

  @Test
  void whatIsForgottenDiffersInNothing() {
    Comparison comparison = comparison(then(1_000, "t2e", "stop"), then(2_000, "t4e", "clear"));
    comparison.says(event("t6e", "stop"), 900, 1);
    comparison.forget(1);
    comparison.says(event("t4e", "clear"), 2_000, 2);
    assertEquals(List.of(), end(comparison));
  }

  private static List<String> end(Comparison comparison) {
    List<Finding> findings = new ArrayList<>(comparison.take());
    comparison.pass(Long.MAX_VALUE / 2);
    findings.addAll(comparison.take());
    return findings.stream()
        .map(each -> each.said().id() + ": " + each.then() + ", " + each.now())
        .toList();
  }

  private static Comparison comparison(Output... then) {
    List<Output> outputs = new ArrayList<>();
    for (Output each : then) {
      outputs.add(new Output(each.timeUs(), each.event(), outputs.size() + 1));
    }
    return new Comparison(outputs, new Spoken(layout), TOLERANCE_US);
  }

  private static Output then(long timeUs, String signal, String aspect) {
    return new Output(timeUs, event(signal, aspect), 0);
  }

  private static EventId event(String signal, String aspect) {
    return layout.signals().get(signal).shows().get(aspect);
  }
}
