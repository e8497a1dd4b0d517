package tappet.bridge.conformance;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.concurrent.TimeUnit;
import java.util.regex.MatchResult;
import tappet.bridge.JavaProcess;
import tappet.bridge.Tappet;

/** The device under test: the daemon at Birch Hollow, in a process of its own. */
public final class Dut implements AutoCloseable {

  /** Its node id. */
  public static final String NODE = "0A5700000001";

  private final JavaProcess process;
  private final HttpClient client = HttpClient.newHttpClient();
  private String desk;

  private Dut(JavaProcess process) {
    this.process = process;
  }

  /** Starts one that has nothing but its own hub, and waits until it can be joined. */
  public static Dut alone(Path folder) throws IOException {
    return run(folder, NODE, "connections: []");
  }

  /** Starts one that can be joined with binary messages too (draft). */
  static Dut withDraftHub(Path folder) throws IOException {
    return run(folder, NODE, "connections: []\ndraft hub: 127.0.0.1:0");
  }

  /** Starts one that joins the hub at a port of this machine. */
  static Dut joining(Path folder, String node, int port) throws IOException {
    return run(folder, node, connections(port));
  }

  /** Starts one whose layout has a clock, and that joins the hub at a port of this machine. */
  static Dut withClock(Path folder, String clock, int port) throws IOException {
    return run(folder, NODE, "clock: " + clock + "\n" + connections(port));
  }

  private static String connections(int port) {
    return "connections: [{tcp: '127.0.0.1:%d'}]".formatted(port);
  }

  /** Starts the daemon on the demo's layout and simulator. */
  static Dut onDemo(Path folder) throws IOException {
    Path demo = Path.of("..", "config", "demo");
    for (String name : new String[] {"layout.yaml", "rules.yaml"}) {
      Files.copy(demo.resolve(name), folder.resolve(name), StandardCopyOption.REPLACE_EXISTING);
    }
    String settings =
        Files.readString(demo.resolve("tappet.yaml"))
            .replaceFirst("hub: .*", "hub: 127.0.0.1:0")
            .replaceFirst("desk: .*", "desk: 127.0.0.1:0")
            .replaceFirst("pages: .*", "pages: 127.0.0.1:0");
    return start(Files.writeString(folder.resolve("tappet.yaml"), settings));
  }

  private static Dut run(Path folder, String node, String more) throws IOException {
    copy("layout.yaml", folder);
    copy("rules.yaml", folder);
    return start(Files.writeString(folder.resolve("tappet.yaml"), settings(node, more)));
  }

  private static Dut start(Path settings) throws IOException {
    return new Dut(JavaProcess.start(Tappet.class, "run", "--config", settings.toString()));
  }

  private static void copy(String name, Path folder) throws IOException {
    try (InputStream text = Dut.class.getResourceAsStream("/conformance/" + name)) {
      Files.copy(text, folder.resolve(name), StandardCopyOption.REPLACE_EXISTING);
    }
  }

  private static String settings(String node, String more) {
    return """
        daemon: 1
        layout: layout.yaml
        rules: rules.yaml
        node: %s
        hub: 127.0.0.1:0
        desk: 127.0.0.1:0
        %s
        """
        .formatted(String.join(".", node.split("(?<=\\G..)")), more);
  }

  public JavaProcess process() {
    return process;
  }

  /** Where its hub can be joined. */
  public InetSocketAddress hub() {
    MatchResult line = process.awaitLine("hub at \\S+:(\\d+), desk at (\\S+)");
    desk = line.group(2);
    int port = Integer.parseInt(line.group(1));
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), port);
  }

  /** The port at which it can be joined with binary messages. */
  int draftHub() {
    return Integer.parseInt(
        process.awaitLine("Listening for TCP draft clients on \\S+:(\\d+)").group(1));
  }

  /** Tells it a sentence; answers what it says to that. */
  public String tell(String sentence) {
    hub();
    return ask(request("/tell").POST(HttpRequest.BodyPublishers.ofString(sentence)));
  }

  /** Asks it why something is as it is. */
  public String why(String name) {
    hub();
    return ask(request("/why?name=" + name));
  }

  /** Watches it until this alarm stands. */
  void awaitAlarm(String words) {
    hub();
    var standing = client.sendAsync(request("/watch").build(), HttpResponse.BodyHandlers.ofLines());
    boolean found =
        standing
            .thenApply(HttpResponse::body)
            .thenApplyAsync(
                lines -> lines.anyMatch(line -> line.matches(".*ALARM .*" + words + ".*")))
            .orTimeout(JavaProcess.PATIENCE.toSeconds(), TimeUnit.SECONDS)
            .join();
    assertTrue(found, words);
  }

  private HttpRequest.Builder request(String path) {
    return HttpRequest.newBuilder(URI.create("http://" + desk + path))
        .timeout(JavaProcess.PATIENCE);
  }

  private String ask(HttpRequest.Builder request) {
    try {
      return client.send(request.build(), HttpResponse.BodyHandlers.ofString()).body();
    } catch (IOException e) {
      throw new AssertionError("the desk does not answer: " + process.lines(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  /** Ends it as a service is ended, so that it can keep what it has to. */
  void end() {
    try {
      process.terminate();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  @Override
  public void close() {
    process.close();
  }
}
