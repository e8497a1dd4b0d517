package tappet.bridge;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.PrintStream;
import java.net.ConnectException;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.regex.MatchResult;
import tappet.bridge.adapter.PseudoTerminal;

/**
 * What becomes of a daemon, as an owner runs it, when far too much comes in by its serial line, and
 * when its heap is full. The railroad is a program of its own.
 */
public final class Faults implements AutoCloseable {

  private static final String PERMIT = "permit of Way Freight on mill-branch";
  private static final int DONE = 200;
  private static final int OUT_OF_MEMORY_STATUS = 3;

  /** Enough for the quick line, and for few who join it. */
  private static final String LITTLE_HEAP = "-Xmx16m";

  private static final int CLIENTS_MOST = 10_000;

  private final HttpClient client = HttpClient.newHttpClient();
  private final Path far;
  private final PseudoTerminal cable;
  private final Wire.Network network;
  private final String settings;
  private JavaProcess daemon;

  private Faults(Path folder) throws IOException {
    QuickLine.write(folder);
    far = folder.resolve("far");
    Path near = folder.resolve("near");
    cable = PseudoTerminal.plug(near, far);
    network = new Wire.Network(folder);
    var way = (Settings.Tcp) network.way();
    Path written =
        QuickLine.settings(
            folder, "[{tcp: '%s:%d'}, {serial: %s}]".formatted(way.host(), way.port(), near));
    Files.writeString(written, "pages: 127.0.0.1:0\n", StandardOpenOption.APPEND);
    settings = written.toString();
  }

  /**
   * Pours into the serial line for so long.
   *
   * @throws AssertionError if the daemon does not stand it
   */
  public static void flood(int seconds, long seed, Path folder, PrintStream out)
      throws IOException {
    try (Faults faults = new Faults(folder)) {
      faults.flood(seconds, seed, out);
    }
  }

  /**
   * Lets more and more clients join the hub of a daemon with little heap, until it ends.
   *
   * @throws AssertionError if it does not, or if anything confirmed is missing afterwards
   */
  public static void hunger(Path folder, PrintStream out) throws Exception {
    try (Faults faults = new Faults(folder)) {
      faults.hunger(out);
    }
  }

  private void flood(int seconds, long seed, PrintStream out) throws IOException {
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings);
    clearASignal();
    double quietMb = ProcessStatus.residentMb(daemon.id());
    int mark = network.field().mark();
    long beganNs = System.nanoTime();
    AtomicBoolean over = new AtomicBoolean();
    var poured = CompletableFuture.supplyAsync(() -> pourUntil(over, seed));
    long answers = 0;
    long slowestNs = 0;
    double mostMb = quietMb;
    while (System.nanoTime() - beganNs < TimeUnit.SECONDS.toNanos(seconds)) {
      long askedNs = System.nanoTime();
      if (!why("t2e").startsWith("signal t2e")) {
        throw new AssertionError("nobody answers: " + daemon.lines());
      }
      slowestNs = Math.max(slowestNs, System.nanoTime() - askedNs);
      mostMb = Math.max(mostMb, ProcessStatus.residentMb(daemon.id()));
      answers++;
    }
    over.set(true);
    boolean fell = network.field().linesSince(mark).contains("told t2e stop");
    clearASignal();
    out.printf(
        "flood: %.1f MB in %d s, seed %d; %d people's questions answered, the slowest in %d ms%n"
            + "  %.1f MB resident before, %.1f at most; the signal %s, and was cleared again%n",
        poured.join() / 1e6,
        seconds,
        seed,
        answers,
        TimeUnit.NANOSECONDS.toMillis(slowestNs),
        quietMb,
        mostMb,
        fell ? "fell to stop" : "proceeded throughout");
  }

  private long pourUntil(AtomicBoolean over, long seed) {
    Flood flood = new Flood(seed);
    long poured = 0;
    while (!over.get()) {
      poured += flood.pour(far, 100_000);
    }
    return poured;
  }

  private void hunger(PrintStream out) throws Exception {
    daemon = JavaProcess.start(List.of(LITTLE_HEAP), Tappet.class, "run", "--config", settings);
    clearASignal();
    awaitDone("grant permit to 'Way Freight' on mill-branch");
    int clients = joinUntilItEnds();
    int status = daemon.awaitEnd();
    List<String> lines = daemon.lines();
    if (status != OUT_OF_MEMORY_STATUS) {
      throw new AssertionError("status " + status + ": " + lines);
    }
    int mark = network.field().mark();
    daemon = JavaProcess.start(Tappet.class, "run", "--config", settings);
    network.field().awaitLine(mark, "told t2e stop");
    if (!why("protections").contains(PERMIT)) {
      throw new AssertionError(why("protections"));
    }
    clearASignal();
    out.printf(
        "hunger: with %s it ended when %d visitors had come, with status %d: %s%n"
            + "  started again, every signal at stop, and what was confirmed is there%n",
        LITTLE_HEAP, clients, status, lines.get(lines.size() - 1));
  }

  /** Visitors come to the desk and ask nothing; answers how many there were. */
  private int joinUntilItEnds() throws IOException {
    MatchResult desk = daemon.awaitLine("desk at ([0-9.]+):([0-9]+)");
    List<Socket> clients = new ArrayList<>();
    try {
      while (daemon.isAlive() && clients.size() < CLIENTS_MOST) {
        clients.add(new Socket(desk.group(1), Integer.parseInt(desk.group(2))));
      }
    } catch (ConnectException e) {
      // It has ended.
    }
    for (Socket client : clients) {
      client.close();
    }
    return clients.size();
  }

  private void clearASignal() {
    int mark = network.field().mark();
    var unused = tell("cancel t2e"); // Nothing may be lined yet.
    awaitDone("line t2e to t4e");
    network.field().awaitLine(mark, "told t2e approach");
  }

  private void awaitDone(String sentence) {
    await().atMost(JavaProcess.PATIENCE).alias(sentence).until(() -> tell(sentence) == DONE);
  }

  /** The status of the answer. */
  private int tell(String sentence) {
    return ask(HttpRequest.newBuilder(URI.create(desk() + "/tell"))
            .POST(HttpRequest.BodyPublishers.ofString(sentence)))
        .statusCode();
  }

  private String why(String name) {
    return ask(HttpRequest.newBuilder(URI.create(desk() + "/why?name=" + name))).body();
  }

  private String desk() {
    return "http://" + daemon.awaitLine("desk at ([0-9.:]+)").group(1);
  }

  private HttpResponse<String> ask(HttpRequest.Builder request) {
    try {
      return client.send(request.build(), BodyHandlers.ofString());
    } catch (IOException e) {
      throw new AssertionError("nobody answers: " + daemon.lines(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  @Override
  public void close() {
    if (daemon != null) {
      daemon.close();
    }
    network.close();
    cable.close();
  }
}
