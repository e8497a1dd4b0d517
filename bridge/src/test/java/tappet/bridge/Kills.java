package tappet.bridge;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.PrintStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Kills the daemon (SIGKILL) at random moments while people write, pages look on and routes are
 * lined, and looks at what each next start still knows. The railroad is a program of its own that
 * goes on.
 */
public final class Kills {

  private static final List<String> BLOCKED =
      List.of("signal c8w", "signal c6w", "section mill-branch", "switch c1");
  private static final String PERMIT = "permit of Way Freight on quarry-spur";
  private static final Pattern TOLD = Pattern.compile("told (\\S+) (\\S+)");
  private static final int DONE = 200;

  /** What is known of one thing that people write: by what it is asked for, and its last state. */
  private enum Known {
    STANDS,
    GONE,
    EITHER
  }

  private final Map<String, Known> written = new TreeMap<>();
  private final HttpClient client = HttpClient.newHttpClient();
  private final PrintStream out;
  private final Path folder;
  private final Random chance;
  private JavaProcess daemon;
  private String desk = "";
  private int confirmed;
  private int unconfirmedKept;
  private int unconfirmedLost;
  private long worstStartNs;

  private Kills(Path folder, long seed, PrintStream out) {
    this.folder = folder;
    this.chance = new Random(seed);
    this.out = out;
  }

  /**
   * Kills the daemon so many times, and tells how that went.
   *
   * @throws AssertionError if anything confirmed is missing, or a signal is better than known
   */
  public static void run(int times, long seed, Path folder, PrintStream out) throws IOException {
    out.printf("%d kills, seed %d (measure kills %d %d)%n", times, seed, times, seed);
    new Kills(folder, seed, out).run(times);
  }

  private void run(int times) throws IOException {
    QuickLine.write(folder);
    try (Wire.Network network = new Wire.Network(folder)) {
      Path settings = settings(network);
      for (int kill = 0; kill <= times; kill++) {
        int mark = network.field().mark();
        long beganNs = System.nanoTime();
        daemon = JavaProcess.start(Tappet.class, "run", "--config", settings.toString());
        try {
          look(network, mark, beganNs);
          if (kill < times) {
            workUntil(
                System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(200 + chance.nextInt(1800)));
          }
        } finally {
          daemon.close();
        }
      }
    }
    out.printf(
        "%d confirmed and there; cut off while being told: %d kept, %d not; worst start %d ms%n",
        confirmed, unconfirmedKept, unconfirmedLost, TimeUnit.NANOSECONDS.toMillis(worstStartNs));
  }

  private Path settings(Wire.Network network) throws IOException {
    var way = (Settings.Tcp) network.way();
    Path settings =
        QuickLine.settings(folder, "[{tcp: '%s:%d'}]".formatted(way.host(), way.port()));
    return Files.writeString(settings, "pages: 127.0.0.1:0\n", StandardOpenOption.APPEND);
  }

  /** The railroad was told Stop first, and nothing else; what was confirmed is there. */
  private void look(Wire.Network network, int mark, long beganNs) {
    desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
    network.field().awaitLine(mark, "told c8w stop");
    worstStartNs = Math.max(worstStartNs, System.nanoTime() - beganNs);
    for (String line : network.field().lines().subList(mark, network.field().mark())) {
      Matcher told = TOLD.matcher(line);
      if (told.matches() && !told.group(2).equals("stop")) {
        throw new AssertionError("better than known: " + line);
      }
    }
    String protections = get("/why?name=protections");
    if (protections.contains("not known")) {
      throw new AssertionError(protections);
    }
    for (String device : BLOCKED) {
      compare("block " + device, protections.contains("blocking of " + device));
    }
    compare(PERMIT, protections.contains(PERMIT));
    compare("name", chart().contains("name=Extra 41"));
  }

  private String chart() {
    try {
      Path file = ChartFile.beside(folder.resolve("tappet.state"));
      return Files.exists(file) ? Files.readString(file) : "";
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private void compare(String what, boolean stands) {
    Known known = written.getOrDefault(what, Known.GONE);
    if (known == Known.EITHER) {
      unconfirmedKept += stands ? 1 : 0;
      unconfirmedLost += stands ? 0 : 1;
    } else if (stands != (known == Known.STANDS)) {
      throw new AssertionError(what + " was " + known + ", and stands: " + stands);
    } else {
      confirmed += stands ? 1 : 0;
    }
    written.put(what, stands ? Known.STANDS : Known.GONE);
  }

  /** People write one thing after the other; a helper kills the daemon in the middle of one. */
  private void workUntil(long endNs) {
    JavaProcess victim = daemon;
    String pages = "http://" + victim.awaitLine("pages at http://([0-9.:]+)").group(1);
    List<Thread> others = new ArrayList<>();
    others.add(looker(pages + "/api/news"));
    others.add(looker(pages + "/api/diary"));
    Thread killer =
        new Thread(
            () -> {
              await()
                  .atMost(JavaProcess.PATIENCE)
                  .pollInterval(Duration.ofMillis(1))
                  .until(() -> System.nanoTime() >= endNs);
              victim.close();
            });
    killer.start();
    others.forEach(Thread::start);
    while (victim.isAlive()) {
      writeSomething();
    }
    others.add(killer);
    others.forEach(Kills::join);
  }

  private Thread looker(String uri) {
    return new Thread(
        () -> {
          JavaProcess victim = daemon;
          while (victim.isAlive()) {
            status(HttpRequest.newBuilder(URI.create(uri)).GET());
          }
        });
  }

  private static void join(Thread thread) {
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void writeSomething() {
    switch (chance.nextInt(4)) {
      case 2 ->
          write(
              PERMIT,
              "grant permit to 'Way Freight' on quarry-spur",
              "return permit of 'Way Freight'");
      case 0 -> write("name", "name 'Extra 41' on west-main", "drop name 'Extra 41'");
      case 1 -> tell(chance.nextBoolean() ? "line t2e to t4e" : "cancel t2e");
      default -> {
        String device = BLOCKED.get(chance.nextInt(BLOCKED.size()));
        write("block " + device, "block " + device + " for 'Way'", "unblock " + device);
      }
    }
  }

  /** Only an answer settles what stands. */
  private void write(String what, String on, String off) {
    boolean stands = written.getOrDefault(what, Known.GONE) == Known.STANDS;
    Known before = written.put(what, Known.EITHER);
    int status = tell(stands ? off : on);
    if (status == DONE) {
      written.put(what, stands ? Known.GONE : Known.STANDS);
    } else if (status != 0) {
      written.put(what, before == null ? Known.GONE : before);
    }
  }

  /** The status of the answer; 0 where none came. */
  private int tell(String sentence) {
    return status(
        HttpRequest.newBuilder(URI.create("http://" + desk + "/tell"))
            .POST(HttpRequest.BodyPublishers.ofString(sentence)));
  }

  private int status(HttpRequest.Builder request) {
    try {
      return client.send(request.build(), BodyHandlers.ofString()).statusCode();
    } catch (IOException e) {
      return 0;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return 0;
    }
  }

  private String get(String path) {
    HttpRequest request = HttpRequest.newBuilder(URI.create("http://" + desk + path)).build();
    try {
      return client.send(request, BodyHandlers.ofString()).body();
    } catch (IOException e) {
      throw new AssertionError(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }
}
