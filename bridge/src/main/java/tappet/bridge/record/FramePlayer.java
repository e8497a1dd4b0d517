package tappet.bridge.record;

import java.io.BufferedReader;
import java.io.Closeable;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.adapter.LocalConnection;
import tappet.bridge.hub.Hub;

/** Tells the frames of a recording to the hub, as if they came from a layout. */
public final class FramePlayer implements Closeable {

  /**
   * What was played.
   *
   * @param frames frames told to the hub
   * @param skipped lines that tell of no frame LCC uses; empty ones not counted
   */
  public record Played(long frames, long skipped) {}

  private static final Logger LOG = LoggerFactory.getLogger(FramePlayer.class);

  /** The hub gets no more than this ahead of its loop. */
  private static final int BATCH_MAX = 256;

  private final Hub hub;
  private final Path path;
  private final Pace pace;
  private final LocalConnection connection;
  private final CompletableFuture<Played> end = new CompletableFuture<>();
  private final Thread thread = new Thread(this::run, "play frames");

  private final List<LoggedFrame> batch = new ArrayList<>();
  private long firstUs = -1;
  private long latestUs;
  private long frames;
  private long skipped;

  private FramePlayer(Hub hub, Path path, Pace pace) {
    this.hub = hub;
    this.path = path;
    this.pace = pace;
    this.connection = LocalConnection.attach(hub, "playing " + path, frame -> {});
  }

  /**
   * Starts to play.
   *
   * @throws IOException if there is no such file, or it cannot be read
   */
  public static FramePlayer start(Hub hub, Path path, Pace pace) throws IOException {
    BufferedReader lines = Files.newBufferedReader(path, StandardCharsets.ISO_8859_1);
    lines.close();
    FramePlayer player = new FramePlayer(hub, path, pace);
    player.thread.setDaemon(true);
    player.thread.start();
    return player;
  }

  /** Completed when all is played; fails if the file cannot be read to its end, or by close. */
  public CompletableFuture<Played> end() {
    return end;
  }

  private void run() {
    try (BufferedReader lines = Files.newBufferedReader(path, StandardCharsets.ISO_8859_1)) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        play(line);
      }
      tellBatch();
      end.complete(new Played(frames, skipped));
    } catch (IOException e) {
      end.completeExceptionally(e);
    } catch (InterruptedException e) {
      end.completeExceptionally(e);
    } finally {
      connection.close();
    }
  }

  private void play(String line) throws InterruptedException {
    Optional<LoggedFrame> logged = FrameLogText.read(line);
    if (logged.isPresent()) {
      play(logged.get());
    } else if (!line.isBlank() && !line.startsWith("#")) {
      skip(line);
    }
  }

  private void skip(String line) {
    if (skipped == 0) {
      LOG.warn("{} has lines without an LCC frame, such as '{}'; they are skipped", path, line);
    }
    skipped++;
  }

  private void play(LoggedFrame logged) throws InterruptedException {
    if (firstUs < 0) {
      firstUs = logged.timeUs();
    }
    boolean isLater = logged.timeUs() - firstUs > latestUs;
    if (isLater || batch.size() >= BATCH_MAX) {
      tellBatch();
    }
    if (isLater) {
      latestUs = logged.timeUs() - firstUs;
      pace.await(latestUs);
    }
    batch.add(logged);
  }

  /** Tells the frames of one moment in one go and waits until the hub has taken them. */
  private void tellBatch() throws InterruptedException {
    if (batch.isEmpty()) {
      return;
    }
    connection.tellAll(batch.stream().map(LoggedFrame::frame).toList());
    frames += batch.size();
    batch.clear();
    hub.loop().submit(() -> {}).await();
  }

  /** Ends playing, in the middle if need be. */
  @Override
  public void close() {
    thread.interrupt();
  }
}
