package tappet.bridge;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Scanner;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Whom an electric lock opens for is on the disk before its board hears that it shall open: pull
 * the plug at any moment, and no lock stands open without a name. Common practice, no source.
 */
class LockHolderKeptTest {

  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final int DONE = 200;

  /** The demo's order to release the lock of q1: an event report (S-9.7.3.1 §4.1), by whomever. */
  private static final Pattern RELEASE = Pattern.compile(":X195B4[0-9A-F]{3}N0A57000003006101;");

  @TempDir Path folder;

  private final HttpClient client = HttpClient.newHttpClient();

  @Test
  void holderIsKeptBeforeTheLockIsToldToOpen() throws Exception {
    try (QuickDaemon running = QuickDaemon.start(folder);
        Socket board = join(running.daemon().hubAddress())) {
      CompletableFuture<String> keptByThen =
          CompletableFuture.supplyAsync(() -> chartWhenHeard(board));

      await()
          .atMost(PATIENCE)
          .until(() -> tell(running.daemon(), "release q1 to 'Quarry crew'") == DONE);

      String chart = keptByThen.join();
      assertTrue(chart.contains("Quarry crew"), chart);
    }
  }

  private static Socket join(InetSocketAddress hub) throws IOException {
    Socket board = new Socket(hub.getAddress(), hub.getPort());
    board.setSoTimeout((int) PATIENCE.toMillis());
    return board;
  }

  /** What stands in the chart's file when the order comes. */
  private String chartWhenHeard(Socket board) {
    try (var text = new InputStreamReader(board.getInputStream(), StandardCharsets.US_ASCII);
        Scanner frames = new Scanner(new BufferedReader(text)).useDelimiter("(?<=;)")) {
      while (!RELEASE.matcher(frames.next().strip()).matches()) {
        // Other frames are for other boards.
      }
      return Files.readString(ChartFile.beside(folder.resolve("tappet.state")));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private int tell(Daemon daemon, String sentence) throws IOException, InterruptedException {
    InetSocketAddress desk = daemon.deskAddress();
    URI uri = URI.create("http://127.0.0.1:%d/tell".formatted(desk.getPort()));
    HttpRequest request =
        HttpRequest.newBuilder(uri).POST(HttpRequest.BodyPublishers.ofString(sentence)).build();
    return client.send(request, BodyHandlers.ofString()).statusCode();
  }
}
