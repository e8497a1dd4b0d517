package tappet.bridge;

import java.util.function.Supplier;
import tappet.bridge.proof.Standing;
import tappet.bridge.reload.Edition;
import tappet.bridge.view.ChartBook;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;

/**
 * What a daemon begins to run, and the chart that people write on beside it.
 *
 * @param book watches the interlocking, so that names follow trains
 */
record Charted(Edition edition, ChartBook book) {

  /**
   * Makes an interlocking of a railroad.
   *
   * @param standing tells how its rules stand, and is asked last: that may be worked out beside
   */
  static Charted of(OwnerFiles.Railroad railroad, Supplier<Standing> standing) {
    ChartBook book = new ChartBook(System::currentTimeMillis);
    Layout layout = railroad.layout();
    Interlocking interlocking =
        new Interlocking(railroad.compiled(), network -> book.over(layout, network), book);
    book.watch(interlocking);
    return new Charted(new Edition(railroad.files(), interlocking, standing.get()), book);
  }
}
