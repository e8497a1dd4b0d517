package tappet.bridge.adapter;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.TimeUnit;

/**
 * A serial cable: two pseudo-terminals joined by socat, each under a link of its own. A machine
 * without socat fails the test (Debian: {@code apt install socat}).
 */
public final class PseudoTerminal implements AutoCloseable {

  private static final Duration PATIENCE = Duration.ofSeconds(30);

  private final Process socat;
  private final Path near;
  private final Path far;

  private PseudoTerminal(Process socat, Path near, Path far) {
    this.socat = socat;
    this.near = near;
    this.far = far;
  }

  /** Plugs a cable in; both ends are there when this returns. */
  public static PseudoTerminal plug(Path near, Path far) throws IOException {
    Process socat =
        new ProcessBuilder("socat", "-d", end(near), end(far))
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    PseudoTerminal cable = new PseudoTerminal(socat, near, far);
    await().atMost(PATIENCE).until(() -> Files.exists(near) && Files.exists(far));
    return cable;
  }

  private static String end(Path link) {
    return "pty,raw,echo=0,link=" + link;
  }

  /** The cable stays plugged in, but moves nothing any more. */
  void freeze() throws Exception {
    signal("-STOP");
  }

  private void signal(String signal) throws Exception {
    new ProcessBuilder("kill", signal, Long.toString(socat.pid())).start().waitFor();
  }

  /** Pulls the cable out: both ends are gone when this returns. */
  @Override
  public void close() {
    socat.destroyForcibly();
    try {
      socat.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS);
      // A killed socat leaves its links behind, pointing nowhere or at a stranger's terminal.
      Files.deleteIfExists(near);
      Files.deleteIfExists(far);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
