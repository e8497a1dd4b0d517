package tappet.measure;

import java.io.PrintStream;
import java.util.List;
import java.util.concurrent.TimeUnit;
import tappet.layout.Layout;
import tappet.rules.ControlTable;
import tappet.rules.RuleReader;
import tappet.rules.draft.RuleDraft;
import tappet.source.Problems;

/**
 * Prints what drafting rules costs for generated lines of 10, 100 and 1,000 control points, and a
 * check value that must not depend on the machine.
 */
public final class DraftMeasure {

  private static final int WARM_UP_DRAFTS = 20;

  private final PrintStream out;
  private double leastNs;

  private DraftMeasure(PrintStream out) {
    this.out = out;
  }

  /** Measures every size. */
  public static void whole(PrintStream out) {
    new DraftMeasure(out).measure(List.of(2, 20, 200));
  }

  /** Two small sizes: only to see that it works. */
  public static void tiny(PrintStream out) {
    new DraftMeasure(out).measure(List.of(1, 2));
  }

  private void measure(List<Integer> sizes) {
    out.println("draft: rules from the track plan alone, and read back");
    Layout small = new GeneratedLine(sizes.get(0)).layout();
    for (int round = 0; round < WARM_UP_DRAFTS; round++) {
      read(RuleDraft.of(small).text(), small);
    }
    sizes.forEach(this::tell);
    out.println("  goal: 100 control points within seconds");
  }

  private void tell(int groups) {
    Layout layout = new GeneratedLine(groups).layout();
    int controlPoints = groups * GeneratedLine.CONTROL_POINTS_EACH;
    long start = System.nanoTime();
    RuleDraft draft = RuleDraft.of(layout);
    long drafted = System.nanoTime();
    ControlTable table = read(draft.text(), layout);
    long read = System.nanoTime();
    double eachNs = (double) (drafted - start) / controlPoints;
    leastNs = leastNs == 0 ? eachNs : leastNs;
    out.printf(
        "  %,5d control points: drafted in %,d ms, ratio %.2f a control point; read back in %,d ms;"
            + " %,d routes, %,d characters, check value %08x%n",
        controlPoints,
        TimeUnit.NANOSECONDS.toMillis(drafted - start),
        eachNs / leastNs,
        TimeUnit.NANOSECONDS.toMillis(read - drafted),
        table.routes().size(),
        draft.text().length(),
        draft.text().hashCode());
  }

  private static ControlTable read(String rules, Layout layout) {
    Problems problems = new Problems();
    return RuleReader.read("draft", rules, layout, problems)
        .orElseThrow(() -> new IllegalStateException("drafted mistakes: " + problems.sorted()));
  }
}
