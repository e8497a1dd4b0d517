package tappet.bridge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tappet.bridge.health.LogSetup;
import tappet.bridge.pages.Ear;

/**
 * What a daemon tells of itself, against the rules of the text-based exposition format 0.0.4
 * (Prometheus documentation, "Exposition formats").
 */
class HealthTest {

  /** A line of the format, from its section "Text format details"; no escapes occur here. */
  private static final Pattern SAMPLE =
      Pattern.compile(
          "([a-zA-Z_:][a-zA-Z0-9_:]*)(\\{[a-zA-Z_][a-zA-Z0-9_]*=\"[^\"\\\\\n]*\""
              + "(,[a-zA-Z_][a-zA-Z0-9_]*=\"[^\"\\\\\n]*\")*})? (-?[0-9.]+(E-?[0-9]+)?|\\+Inf|NaN)");

  private static final Pattern COMMENT =
      Pattern.compile("# (HELP [a-z_]+ .+|TYPE [a-z_]+ (counter|gauge|histogram))");

  @TempDir static Path folder;
  private static QuickDaemon daemon;

  @BeforeAll
  static void start() throws IOException {
    Settings.Extras extras =
        new Settings.Extras(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.of(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0)),
            Optional.empty(),
            LogSetup.Form.LINES);
    daemon = QuickDaemon.start(folder, extras);
    Awaitility.await().atMost(JavaProcess.PATIENCE).until(() -> health().statusCode() == 200);
  }

  @AfterAll
  static void stop() {
    daemon.close();
  }

  private static HttpResponse<String> get(String path) throws IOException {
    try {
      String host = "127.0.0.1:" + daemon.daemon().metricsAddress().orElseThrow().getPort();
      return HttpClient.newHttpClient()
          .send(
              HttpRequest.newBuilder(URI.create("http://" + host + path)).build(),
              HttpResponse.BodyHandlers.ofString());
    } catch (InterruptedException e) {
      throw new AssertionError(e);
    }
  }

  private static HttpResponse<String> health() throws IOException {
    return get("/health");
  }

  private static double value(String text, String sample) {
    return text.lines()
        .filter(line -> line.startsWith(sample + " "))
        .mapToDouble(line -> Double.parseDouble(line.substring(sample.length() + 1)))
        .findFirst()
        .orElseThrow(() -> new AssertionError(sample + " is not in\n" + text));
  }

  @Test
  void everyLineIsOfTheTextFormat() throws IOException {
    HttpResponse<String> got = get("/metrics");
    assertEquals(200, got.statusCode());
    assertTrue(
        got.headers()
            .firstValue("Content-Type")
            .orElse("")
            .startsWith("text/plain; version=0.0.4"));
    assertTrue(got.body().endsWith("\n"), "the last line must end with a line feed");
    List<String> odd =
        got.body()
            .lines()
            .filter(line -> !SAMPLE.matcher(line).matches() && !COMMENT.matcher(line).matches())
            .toList();
    assertEquals(List.of(), odd);
  }

  @Test
  void everyNameIsDocumented() throws IOException {
    String documented = Files.readString(Path.of("..", "config", "metrics.md"));
    Set<String> unknown = new TreeSet<>();
    get("/metrics")
        .body()
        .lines()
        .filter(line -> line.startsWith("# TYPE "))
        .map(line -> line.substring("# TYPE ".length(), line.lastIndexOf(' ')))
        .filter(name -> !documented.contains("`" + name + "`"))
        .forEach(unknown::add);
    assertEquals(Set.of(), unknown);
  }

  @Test
  void numbersAreThoseOfTheDaemon() throws IOException {
    String text = get("/metrics").body();
    assertEquals(1, value(text, "tappet_healthy"));
    assertTrue(value(text, "tappet_box_reaction_seconds_count") > 100, text);
    assertTrue(
        value(text, "tappet_connection_frames_total{connection=\"the simulator\",direction=\"in\"}")
            > 100,
        text);
    assertTrue(value(text, "tappet_memory_resident_bytes") > 10_000_000, text);
    assertEquals(0, value(text, "tappet_box_inputs_lost_total"));
    assertTrue(value(text, "tappet_box_queue_highest_messages") >= 1, text);
  }

  @Test
  void whatIsNotAskedHereIsNotFound() throws IOException {
    assertEquals(404, get("/").statusCode());
    assertEquals(404, get("/metrics/more").statusCode());
  }

  /** The box is held up as a fault would hold it; nothing else of the daemon waits for it. */
  @Test
  void boxThatStallsIsNotWellUntilItGoesOn() throws Exception {
    CountDownLatch end = new CountDownLatch(1);
    var stalled =
        daemon
            .daemon()
            .box()
            .ask(
                (box, nowNs) -> {
                  try {
                    return end.await(60, TimeUnit.SECONDS);
                  } catch (InterruptedException e) {
                    return false;
                  }
                });
    try {
      Awaitility.await().atMost(JavaProcess.PATIENCE).until(() -> health().statusCode() == 503);
      assertTrue(health().body().contains("does not answer"), health().body());
      assertEquals(0, value(get("/metrics").body(), "tappet_healthy"));
      assertNoPageHearsAnythingUntilItGoesOn(end);
    } finally {
      end.countDown();
    }
    assertTrue(stalled.join());
    Awaitility.await().atMost(JavaProcess.PATIENCE).until(() -> health().statusCode() == 200);
  }

  private static void assertNoPageHearsAnythingUntilItGoesOn(CountDownLatch end) {
    try (Ear page = Ear.at(daemon.host())) {
      long goesOnMs = System.currentTimeMillis();
      end.countDown();
      JsonNode first = page.next();
      assertTrue(first.has("state") && first.path("at").asLong() >= goesOnMs, first::toString);
    }
  }
}
