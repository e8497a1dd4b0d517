package tappet.bridge;

import java.util.concurrent.TimeUnit;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import tappet.proof.Proof;

/**
 * A bar that shows how far a proof has come, on the error stream: the report can be kept without
 * it. To look at the terminal takes as long as some proofs after an edit, so it comes only where
 * there is something to wait for, and not where its lines cannot be drawn over.
 */
final class ProofBar implements Proof.Progress, AutoCloseable {

  /** What is done sooner needs no bar. */
  private static final long AFTER_NS = TimeUnit.MILLISECONDS.toNanos(800);

  private final boolean isDumb = "dumb".equals(System.getenv("TERM"));
  private final long since = System.nanoTime();
  private ProgressBar bar;

  @Override
  public synchronized void is(String work, int done, int of) {
    if (bar == null && !isDumb && System.nanoTime() - since >= AFTER_NS) {
      bar = drawn();
    }
    if (bar != null) {
      bar.setExtraMessage(work);
      bar.maxHint(of);
      bar.stepTo(done);
    }
  }

  private static ProgressBar drawn() {
    return new ProgressBarBuilder()
        .setTaskName("proof")
        .setInitialMax(1)
        .setStyle(ProgressBarStyle.ASCII)
        .build();
  }

  @Override
  public synchronized void close() {
    if (bar != null) {
      bar.close();
    }
  }
}
