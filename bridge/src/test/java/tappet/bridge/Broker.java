package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.awaitility.Awaitility;

/** Mosquitto, and its own clients, as processes. */
final class Broker implements AutoCloseable {

  private final Path folder;
  private final String settings;
  final int port;
  private final List<String> access = new ArrayList<>();
  private Process process;

  /**
   * @param settings lines of mosquitto.conf(5) besides the listener
   * @param access what its own clients need to get in
   */
  Broker(Path folder, String settings, String... access) throws IOException {
    this.folder = folder;
    this.settings = settings;
    this.access.addAll(List.of(access));
    this.port = Ports.free();
    start();
  }

  void start() throws IOException {
    Path file = folder.resolve("mosquitto.conf");
    Files.writeString(file, "listener %d 127.0.0.1\nuser root\n%s\n".formatted(port, settings));
    process = quietly("mosquitto", "-c", file.toString());
    Awaitility.await().atMost(JavaProcess.PATIENCE).until(() -> listens(port));
  }

  static boolean listens(int port) {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
      return socket.isConnected();
    } catch (IOException e) {
      return false;
    }
  }

  static Process quietly(String... command) throws IOException {
    return new ProcessBuilder(command)
        .redirectErrorStream(true)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .start();
  }

  static void run(String... command) throws IOException, InterruptedException {
    assertEquals(0, quietly(command).waitFor(), () -> String.join(" ", command));
  }

  /** Publishes something with mosquitto_pub(1). */
  void publish(String topic, String payload, boolean retain)
      throws IOException, InterruptedException {
    List<String> command = client("mosquitto_pub", "-t", topic, "-m", payload, "-q", "1");
    if (retain) {
      command.add("-r");
    }
    run(command.toArray(String[]::new));
  }

  private List<String> client(String... words) {
    List<String> command = new ArrayList<>(List.of(words));
    command.addAll(List.of("-V", "5", "-h", "127.0.0.1", "-p", String.valueOf(port)));
    command.addAll(access);
    return command;
  }

  /** Hears everything under a prefix with mosquitto_sub(1). */
  Listener listen(String filter) throws IOException {
    List<String> command = client("mosquitto_sub", "-t", filter, "-F", "%t %r %p");
    return new Listener(new ProcessBuilder(command).redirectErrorStream(true).start());
  }

  /** The messages of a subscription: topic, 1 where it was kept, payload. */
  static final class Listener implements AutoCloseable {
    private final Process process;
    private final List<String> lines = new CopyOnWriteArrayList<>();

    private Listener(Process process) {
      this.process = process;
      Thread reader = new Thread(this::read, "mosquitto_sub");
      reader.setDaemon(true);
      reader.start();
    }

    private void read() {
      try (BufferedReader output = process.inputReader(StandardCharsets.UTF_8)) {
        output.lines().forEach(lines::add);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      } catch (UncheckedIOException e) {
        lines.add("ended");
      }
    }

    Stream<String> lines() {
      return lines.stream();
    }

    void await(String what) {
      await(what, line -> line.equals(what));
    }

    void await(String what, Predicate<String> isSo) {
      Awaitility.await(what + " in " + lines)
          .atMost(JavaProcess.PATIENCE)
          .until(() -> lines.stream().anyMatch(isSo));
    }

    /** Forgets what has been heard so far. */
    void clear() {
      lines.clear();
    }

    @Override
    public void close() {
      process.destroy();
    }
  }

  /** Has it read who may do what once more (mosquitto(8), SIGHUP). */
  void readAccessAnew() throws IOException, InterruptedException {
    run("kill", "-HUP", String.valueOf(process.pid()));
  }

  /** Ends it as a power cut does. */
  void kill() throws InterruptedException {
    process.destroyForcibly();
    assertTrue(process.waitFor(10, TimeUnit.SECONDS));
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }
}
