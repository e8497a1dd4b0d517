package tappet.bridge;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.ProtectionStore;
import tappet.bridge.box.ProtectionText;
import tappet.interlocking.KeptProtections;

/**
 * The file that outlives the daemon with the names of those who are protected. Written by a thread
 * of its own, since a memory card may take its time. What cannot be read is never taken for
 * "nobody": it is in doubt until a person has made sure.
 */
final class ProtectionFile implements ProtectionStore, AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(ProtectionFile.class);

  private final Path file;
  private final Runnable wakeBox;
  private final ExecutorService writer =
      Executors.newSingleThreadExecutor(task -> new Thread(task, "protection-file"));

  /**
   * @param wakeBox lets the box see that something has been kept
   */
  ProtectionFile(Path file, Runnable wakeBox) {
    this.file = file;
    this.wakeBox = wakeBox;
  }

  /** Where protections are kept, beside the daemon's state. */
  static Path beside(Path state) {
    return state.resolveSibling(state.getFileName() + ".protections");
  }

  /**
   * What was kept.
   *
   * @param ranBefore whether the daemon has ever run here: then the file must be there
   */
  KeptProtections read(boolean ranBefore) {
    try {
      return ProtectionText.read(Files.readString(file));
    } catch (NoSuchFileException e) {
      return ranBefore ? inDoubt("is gone") : KeptProtections.NONE;
    } catch (IOException | IllegalArgumentException e) {
      return inDoubt("cannot be read: " + e.getMessage() + putAside());
    }
  }

  private KeptProtections inDoubt(String what) {
    String doubt = "the file " + file.getFileName() + " " + what;
    LOG.error("Who was protected at work is not known: {}", doubt);
    return new KeptProtections(List.of(), List.of(doubt));
  }

  private String putAside() {
    return DurableFile.putAside(file).map(aside -> "; it is kept as " + aside).orElse("");
  }

  @Override
  public CompletableFuture<Optional<String>> keep(KeptProtections all) {
    try {
      var kept =
          CompletableFuture.supplyAsync(
              () -> DurableFile.write(file, ProtectionText.of(all)), writer);
      var unused = kept.whenComplete((whyNot, failure) -> wakeBox.run());
      return kept;
    } catch (RejectedExecutionException e) {
      return CompletableFuture.completedFuture(Optional.of("the daemon is ending"));
    }
  }

  @Override
  public void close() {
    DurableFile.finish(writer, file);
  }
}
