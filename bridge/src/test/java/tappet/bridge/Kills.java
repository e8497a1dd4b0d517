package tappet.bridge;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.PrintStream;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.bridge.pages.Ear;

/**
 * Kills the daemon (SIGKILL) at random moments while people write, a page and a client of the hub
 * look on and routes are lined, and looks at what each next start still knows. Now and then it is
 * killed again before it has come up. The railroad is a program of its own that goes on.
 */
public final class Kills {

  /** Starts the daemon. */
  public interface Starter {
    JavaProcess start(String... arguments) throws IOException;
  }

  /**
   * One thing that people write and take back.
   *
   * @param seen how pages have it while it stands
   */
  private record Thing(String on, String off, String seen) {

    static Thing blocking(String device) {
      return new Thing(
          "block " + device + " for 'Way'",
          "unblock " + device,
          "blocking of " + device + " for Way");
    }
  }

  private static final List<Thing> THINGS =
      List.of(
          Thing.blocking("signal c8w"),
          Thing.blocking("signal c6w"),
          Thing.blocking("section mill-branch"),
          Thing.blocking("switch c1"),
          new Thing(
              "grant permit to 'Way Freight' on quarry-spur",
              "return permit of 'Way Freight'",
              "permit of Way Freight on quarry-spur"),
          new Thing(
              "flag creamery by 'Plant crew'",
              "unflag creamery by 'Plant crew'",
              "blue flag of Plant crew on section creamery"),
          new Thing("name 'Extra 41' on west-main", "drop name 'Extra 41'", "train Extra 41"));

  private static final String LOCK = "the lock of q1";
  private static final String LOCK_HOLDER = "Quarry crew";
  private static final Pattern TOLD = Pattern.compile("told (\\S+) (\\S+)");
  private static final Pattern CLIENT = Pattern.compile("TCP client \\S+ (is up)?.*");
  private static final Pattern BAD_NEWS = Pattern.compile("damaged|cannot be|begun anew|failed");

  private static final int DONE = 200;
  private static final int LOAD_MS_LEAST = 50;
  private static final int LOAD_MS_MORE = 950;

  /** One start in so many is cut short, at a moment by which a quick machine is not yet up. */
  private static final int CUT_SHORT = 8;

  private static final int CUT_SHORT_MS_MOST = 1_000;
  private static final int JOURNAL_EVERY = 50;

  /** What is known of one thing that people write. */
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
  private final Starter starter;
  private JavaProcess daemon;
  private String desk = "";
  private String pages = "";

  /** How many lines the field had said when nobody was there last. */
  private int quiet;

  private int cutShort;
  private int confirmed;
  private int unconfirmedKept;
  private int unconfirmedLost;
  private long worstStartNs;

  private Kills(Path folder, Starter starter, long seed, PrintStream out) {
    this.folder = folder;
    this.starter = starter;
    this.chance = new Random(seed);
    this.out = out;
  }

  /**
   * Kills the daemon so many times, and tells how that went.
   *
   * @param folder keeps what the daemon has written
   * @throws AssertionError if anything confirmed is missing, a signal is better than known, or the
   *     journal makes no sense
   */
  public static void run(int times, long seed, Path folder, Starter starter, PrintStream out)
      throws IOException {
    out.printf("%d kills, seed %d (measure kills %d %d)%n", times, seed, times, seed);
    new Kills(folder, starter, seed, out).run(times);
  }

  private void run(int times) throws IOException {
    QuickLine.write(folder);
    quicken(folder.resolve("rules.yaml"));
    try (Wire.Network network = new Wire.Network(folder)) {
      String settings = settings(network).toString();
      for (int kill = 0; kill <= times; kill++) {
        try {
          oneLife(network.field(), settings, kill, kill == times);
        } catch (AssertionError e) {
          throw new AssertionError("before kill %d: %s".formatted(kill + 1, daemon.lines()), e);
        }
      }
    }
    tellSoFar(times);
  }

  /** Most of each short life is one in which things are granted. */
  private static void quicken(Path rules) throws IOException {
    String text = Files.readString(rules);
    Files.writeString(rules, text.replaceAll("(start|release|release time): \\d+ s", "$1: 100 ms"));
  }

  private Path settings(Wire.Network network) throws IOException {
    var way = (Settings.Tcp) network.way();
    Path settings =
        QuickLine.settings(folder, "[{tcp: '%s:%d'}]".formatted(way.host(), way.port()));
    return Files.writeString(
        settings, "pages: 127.0.0.1:0\njournal: {at most: 5 MB}\n", StandardOpenOption.APPEND);
  }

  private void oneLife(JavaProcess field, String settings, int number, boolean isLast)
      throws IOException {
    awaitNobody(field);
    if (number % JOURNAL_EVERY == 0 || isLast) {
      JournalCheck.check(folder.resolve("tappet.state.journal"));
      tellSoFar(number);
    }
    int mark = field.mark();
    long beganNs = System.nanoTime();
    daemon = starter.start("run", "--config", settings);
    try {
      if (number > 0 && !isLast && chance.nextInt(CUT_SHORT) == 0) {
        cutShort++;
        daemon.killAfter(Duration.ofMillis(chance.nextInt(CUT_SHORT_MS_MOST)));
        return;
      }
      desk = daemon.awaitLine("desk at ([0-9.:]+)").group(1);
      pages = daemon.awaitLine("pages at http://([0-9.:]+)").group(1);
      try (Ear page = Ear.at(client, pages)) {
        look(page.state());
        lookAtSignals(field, mark);
        worstStartNs = Math.max(worstStartNs, System.nanoTime() - beganNs);
        if (!isLast) {
          work(Duration.ofMillis(LOAD_MS_LEAST + chance.nextInt(LOAD_MS_MORE)));
        }
      }
    } finally {
      daemon.close();
    }
  }

  private void tellSoFar(int kills) {
    out.printf(
        "%tT  %d kills, %d of them before it was up; confirmed and there: %d;"
            + " cut off while being told: %d kept, %d not; worst start %d ms%n",
        System.currentTimeMillis(),
        kills,
        cutShort,
        confirmed,
        unconfirmedKept,
        unconfirmedLost,
        TimeUnit.NANOSECONDS.toMillis(worstStartNs));
  }

  /** What a killed daemon has said last is still on its way until the field has missed it. */
  private void awaitNobody(JavaProcess field) {
    List<String> lines = field.linesSince(quiet);
    while (standing(lines) > 0) {
      field.awaitLine(quiet + lines.size(), CLIENT.pattern());
      lines = field.linesSince(quiet);
    }
    quiet += lines.size();
  }

  private static int standing(List<String> lines) {
    int standing = 0;
    for (String line : lines) {
      Matcher client = CLIENT.matcher(line);
      if (client.matches()) {
        standing += client.group(1) == null ? -1 : 1;
      }
    }
    return standing;
  }

  /** What was confirmed is seen again, as people see it; nobody reads bad news. */
  private void look(JsonNode state) {
    Set<String> seen = new TreeSet<>();
    state.path("protection").fieldNames().forEachRemaining(seen::add);
    state.path("train").fieldNames().forEachRemaining(train -> seen.add("train " + train));
    THINGS.forEach(thing -> compare(thing.seen(), seen.contains(thing.seen())));
    lookAtLock();
    state.path("alarm").fieldNames().forEachRemaining(Kills::refuseBadNews);
    if (why("protections").contains("not known")) {
      throw new AssertionError(why("protections"));
    }
  }

  /** A lock that the field never opened, since the order was lost with the daemon, is nobody's. */
  private void lookAtLock() {
    String lock = why("q1");
    if (written.get(LOCK) == Known.STANDS && !lock.contains("is secured")) {
      compare(LOCK, lock.contains(LOCK_HOLDER));
    } else {
      written.put(LOCK, Known.EITHER);
    }
  }

  private static void refuseBadNews(String alarm) {
    if (BAD_NEWS.matcher(alarm).find()) {
      throw new AssertionError(alarm);
    }
  }

  /** The railroad was told Stop first, and nothing else. */
  private static void lookAtSignals(JavaProcess field, int mark) {
    field.awaitLine(mark, "told c8w stop");
    for (String line : field.linesSince(mark)) {
      Matcher told = TOLD.matcher(line);
      if (told.matches() && !told.group(2).equals("stop")) {
        throw new AssertionError("better than known: " + line);
      }
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

  /** People write one thing after the other; the daemon is killed in the middle of one. */
  private void work(Duration time) throws IOException {
    JavaProcess victim = daemon;
    Thread killer = new Thread(() -> victim.killAfter(time), "killer");
    killer.start();
    try (Socket visitor = visitor()) {
      while (victim.isAlive()) {
        writeSomething();
        long waiting = visitor.getInputStream().available();
        visitor.getInputStream().skipNBytes(waiting);
      }
    } catch (IOException e) {
      victim.close(); // The daemon is gone, and its socket with it.
    }
    join(killer);
  }

  /** A client of the hub, which hears all that goes over the bus. */
  private Socket visitor() throws IOException {
    MatchResult hub = daemon.awaitLine("hub at ([0-9.]+):([0-9]+)");
    return new Socket(hub.group(1), Integer.parseInt(hub.group(2)));
  }

  private static void join(Thread thread) {
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void writeSomething() {
    switch (chance.nextInt(6)) {
      case 0 -> tell(chance.nextBoolean() ? "line t2e to t4e" : "cancel t2e");
      case 1 -> writeLock();
      case 2 -> get(pages, chance.nextBoolean() ? "/api/diary" : "/api/news");
      default -> write(THINGS.get(chance.nextInt(THINGS.size())));
    }
  }

  /** Only an answer settles what stands. */
  private void write(Thing thing) {
    Known before = written.getOrDefault(thing.seen(), Known.GONE);
    boolean stands = before == Known.STANDS;
    written.put(thing.seen(), Known.EITHER);
    int status = tell(stands ? thing.off() : thing.on());
    if (status == DONE) {
      written.put(thing.seen(), stands ? Known.GONE : Known.STANDS);
    } else if (status != 0) {
      written.put(thing.seen(), before);
    }
  }

  /**
   * A lock moves some time after the answer: until it is seen to, it may be either way. Whoever
   * reads that it is somebody's may rely on it, answer or none.
   */
  private void writeLock() {
    boolean stood = written.put(LOCK, Known.EITHER) == Known.STANDS;
    tell(stood ? "secure q1" : "release q1 to '" + LOCK_HOLDER + "'");
    if (why("q1").contains("is released to " + LOCK_HOLDER)) {
      written.put(LOCK, Known.STANDS);
    }
  }

  /** The status of the answer; 0 where none came. */
  private int tell(String sentence) {
    HttpRequest request =
        HttpRequest.newBuilder(URI.create("http://" + desk + "/tell"))
            .POST(HttpRequest.BodyPublishers.ofString(sentence))
            .build();
    try {
      return client.send(request, BodyHandlers.ofString()).statusCode();
    } catch (IOException e) {
      return 0;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return 0;
    }
  }

  private String why(String name) {
    return get(desk, "/why?name=" + name);
  }

  /** The answer; empty where none came. */
  private String get(String host, String path) {
    HttpRequest request = HttpRequest.newBuilder(URI.create("http://" + host + path)).build();
    try {
      return client.send(request, BodyHandlers.ofString()).body();
    } catch (IOException e) {
      return "";
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return "";
    }
  }
}
