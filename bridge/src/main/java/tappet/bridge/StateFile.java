package tappet.bridge;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.box.PropertyText;
import tappet.bridge.node.KeptState;
import tappet.lcc.AliasSeed;
import tappet.lcc.NodeId;

/**
 * The file in which the daemon's node remembers things while it is off. Written by a thread of its
 * own, whole and under another name first, so that a power cut leaves the old or the new state.
 */
final class StateFile implements Consumer<KeptState>, AutoCloseable {

  private static final Logger LOG = LoggerFactory.getLogger(StateFile.class);

  private static final String USER_NAME = "user.name";
  private static final String USER_DESCRIPTION = "user.description";
  private static final String ALIAS_SEED = "alias.seed";
  private static final String EVENTS_GIVEN = "events.given";

  private final Path file;

  /** What is to be written next: of states that come faster than a disk, the last one counts. */
  private final AtomicReference<KeptState> latest = new AtomicReference<>();

  private final ExecutorService writer =
      Executors.newSingleThreadExecutor(task -> new Thread(task, "state-file"));

  StateFile(Path file) {
    this.file = file;
  }

  /**
   * What was kept; what a new node remembers where there is nothing, or nothing that makes sense.
   */
  KeptState read(NodeId node) {
    try {
      return state(PropertyText.facts(Files.readString(file)), node);
    } catch (NoSuchFileException e) {
      return KeptState.ofNew(node);
    } catch (IOException | IllegalArgumentException e) {
      LOG.warn("{} cannot be read and is begun anew: {}", file, e.getMessage());
      return KeptState.ofNew(node);
    }
  }

  /** Whether the daemon has ever run with it. */
  boolean exists() {
    return Files.exists(file);
  }

  /**
   * Lets the next start know that the daemon has run: whatever else was kept must be there then.
   */
  void noteThatItRuns(KeptState state) {
    if (!exists()) {
      accept(state);
    }
  }

  @Override
  public void accept(KeptState state) {
    if (latest.getAndSet(state) == null) {
      writer.execute(() -> write(latest.getAndSet(null)));
    }
  }

  @Override
  public void close() {
    DurableFile.finish(writer, file);
  }

  private static KeptState state(Map<String, String> kept, NodeId node) {
    KeptState none = KeptState.ofNew(node);
    return new KeptState(
        kept.getOrDefault(USER_NAME, none.userName()),
        kept.getOrDefault(USER_DESCRIPTION, none.userDescription()),
        new AliasSeed(
            Long.parseLong(
                kept.getOrDefault(ALIAS_SEED, String.valueOf(none.aliasSeed().value())))),
        Integer.parseInt(kept.getOrDefault(EVENTS_GIVEN, "0")));
  }

  private void write(KeptState state) {
    Map<String, String> kept =
        Map.of(
            USER_NAME, state.userName(),
            USER_DESCRIPTION, state.userDescription(),
            ALIAS_SEED, String.valueOf(state.aliasSeed().value()),
            EVENTS_GIVEN, String.valueOf(state.eventsGiven()));
    String text = PropertyText.of("What Tappet's node remembers; written by the daemon", kept);
    try {
      DurableFile.write(file, text.getBytes(StandardCharsets.UTF_8));
    } catch (IOException e) {
      LOG.error("{} cannot be written, so the next start will not know it: {}", file, e.toString());
    }
  }
}
