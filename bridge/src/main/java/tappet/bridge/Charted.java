package tappet.bridge;

import java.util.function.Function;
import tappet.bridge.proof.Standing;
import tappet.bridge.reload.Edition;
import tappet.bridge.view.ChartBook;
import tappet.interlocking.Interlocking;
import tappet.layout.Layout;
import tappet.network.Network;

/**
 * What a daemon begins to run, and the chart that people write on beside it.
 *
 * @param book watches the interlocking, so that names follow trains
 */
record Charted(Edition edition, ChartBook book) {

  /** Compiles the rules; they stand as the last proof has found. */
  static Charted of(OwnerFiles.Railroad railroad) {
    return of(railroad, network -> Standing.of(railroad.files(), network));
  }

  /**
   * Compiles the rules.
   *
   * @param judge tells how they stand
   */
  static Charted of(OwnerFiles.Railroad railroad, Function<Network, Standing> judge) {
    ChartBook book = new ChartBook(System::currentTimeMillis);
    Layout layout = railroad.layout();
    Interlocking interlocking =
        new Interlocking(railroad.compiled(), network -> book.over(layout, network), book);
    book.watch(interlocking);
    Standing standing = judge.apply(interlocking.network());
    return new Charted(new Edition(railroad.files(), interlocking, standing), book);
  }
}
