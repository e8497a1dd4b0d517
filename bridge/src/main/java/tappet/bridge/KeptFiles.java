package tappet.bridge;

import java.nio.file.Path;
import tappet.bridge.box.BoxThread;
import tappet.bridge.box.Outfit;
import tappet.bridge.box.ProtectionKeeping;
import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.Keeping;
import tappet.bridge.node.KeptState;
import tappet.bridge.view.ChartBook;
import tappet.interlocking.KeptProtections;

/**
 * What outlives the daemon: what its node remembers, who is protected, and what people wrote on the
 * chart. It is read once, when this is made.
 */
final class KeptFiles implements AutoCloseable {

  private final StateFile stateFile;
  private final ProtectionFile protectionFile;
  private final ChartFile chartFile;
  private final KeptState state;
  private final KeptProtections protections;

  KeptFiles(Settings settings, BoxThread box) {
    Path file = settings.state();
    stateFile = new StateFile(file);
    protectionFile = new ProtectionFile(ProtectionFile.beside(file), box::wake);
    chartFile = new ChartFile(ChartFile.beside(file), new BoxTrouble(box, "the chart"));
    state = stateFile.read(settings.node());
    protections = protectionFile.read(stateFile.exists());
  }

  /** What the node remembers. */
  KeptState state() {
    return state;
  }

  /** Who was protected when the daemon last ran. */
  KeptProtections protections() {
    return protections;
  }

  /** Where the chart is kept. */
  ChartFile chart() {
    return chartFile;
  }

  /** What a box is given that remembers by these files. */
  Outfit outfit(ClockPlan clock) {
    return new Outfit(
        clock,
        new Keeping(Tappet.version(), state, stateFile),
        new ProtectionKeeping(protections, protectionFile, Ledgers::wallClock));
  }

  /** Has the chart as it was kept, and keeps it from now on. */
  void restore(ChartBook book) {
    book.restore(chartFile.read(), chartFile);
  }

  /**
   * Lets the next start know that the daemon has run: whatever else was kept must be there then.
   */
  void noteThatItRuns() {
    stateFile.noteThatItRuns(state);
  }

  /** Ends when all is written. */
  @Override
  public void close() {
    stateFile.close();
    protectionFile.close();
    chartFile.close();
  }
}
