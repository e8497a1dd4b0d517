package tappet.bridge;

import tappet.bridge.view.ChartBook;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.rules.ControlTable;

/**
 * An interlocking, and the chart that people write on beside it.
 *
 * @param book watches the interlocking, so that names follow trains
 */
record Charted(Interlocking interlocking, ChartBook book) {

  /** Compiles the rules. */
  static Charted of(Layout layout, ControlTable table) {
    ChartBook book = new ChartBook(System::currentTimeMillis);
    Interlocking interlocking =
        new Interlocking(layout, table, network -> book.over(layout, network), book);
    book.watch(interlocking);
    return new Charted(interlocking, book);
  }
}
