package tappet.bridge.measure;

import java.io.IOException;
import java.io.PrintStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.LongAdder;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import tappet.bridge.Ports;

/**
 * Measures whether open pages slow the interlocking down, and how late they are, with {@value
 * #PAGES} pages between two runs without any: of the measurement of the reaction, and of a session
 * on the demo at {@value #SPEED} times its speed. Each page is a web socket that takes in all that
 * comes. A page's lag is the time from when the box told a piece of news to when the page has it
 * whole.
 */
final class PagesMeasure {

  static final int PAGES = 50;

  private static final int SPEED = 30;

  private static final double GOAL_LAG_MS = 200;
  private static final Pattern NEWS = Pattern.compile("\\{\"at\":(\\d+),\"text\"");

  private final PrintStream out;
  private final ReactionMeasure reaction;
  private final int sessionS;

  private PagesMeasure(PrintStream out, ReactionMeasure reaction, int sessionS) {
    this.out = out;
    this.reaction = reaction;
    this.sessionS = sessionS;
  }

  static PagesMeasure tiny(PrintStream out) {
    return new PagesMeasure(out, new ReactionMeasure(out, 1, 2), 2);
  }

  static PagesMeasure whole(PrintStream out) {
    return new PagesMeasure(out, new ReactionMeasure(out, 10, 30), 60);
  }

  void measure(Path folder, ReactionMeasure.Starter daemon, SessionStarter session)
      throws IOException, InterruptedException {
    measureBusyBus(folder, daemon);
    measureSession(folder, session);
  }

  private void measureBusyBus(Path folder, ReactionMeasure.Starter daemon)
      throws IOException, InterruptedException {
    out.printf(
        "pages: reaction at %d events/s with %d pages open, between two runs without%n",
        ReactionMeasure.RATE, PAGES);
    Latencies before = run(Files.createDirectory(folder.resolve("before")), daemon, 0);
    out.printf("  no page      %s%n", before);
    Latencies with = run(Files.createDirectory(folder.resolve("with")), daemon, PAGES);
    out.printf("  %d pages     %s%n", PAGES, with);
    Latencies after = run(Files.createDirectory(folder.resolve("after")), daemon, 0);
    out.printf("  no page      %s%n", after);
    out.printf(
        "  ratio of p50 %.2f, of p99 %.2f to the slower run without%n",
        with.us(50) / Math.max(before.us(50), after.us(50)),
        with.us(99) / Math.max(before.us(99), after.us(99)));
  }

  private Latencies run(Path folder, ReactionMeasure.Starter daemon, int pages)
      throws IOException, InterruptedException {
    SignalsInARow railroad = ReactionMeasure.railroad();
    int port = Ports.free();
    try (Program program = daemon.start(Settings.withPages(folder, railroad, port))) {
      program.hub();
      Audience audience = new Audience(port, pages);
      Latencies latencies = reaction.play(railroad, program);
      audience.leave();
      if (pages > 0) {
        audience.tell();
      }
      return latencies;
    }
  }

  private void measureSession(Path folder, SessionStarter session)
      throws IOException, InterruptedException {
    out.printf(
        "pages: a session on the demo at %d times its speed for %d s, with %d pages open, between"
            + " two runs without%n",
        SPEED, sessionS, PAGES);
    for (int pages : new int[] {0, PAGES, 0}) {
      Path own = Files.createTempDirectory(folder, "session");
      out.printf("  %2d pages     %s%n", pages, runSession(own, session, pages));
    }
  }

  private BoxReactions runSession(Path folder, SessionStarter session, int pages)
      throws IOException, InterruptedException {
    int port = Ports.free();
    int metrics = Ports.free();
    try (Program program = session.start(Settings.session(folder, port, metrics), SPEED)) {
      program.hub();
      Audience audience = new Audience(port, pages);
      TimeUnit.SECONDS.sleep(sessionS / 2);
      BoxReactions before = BoxReactions.at(metrics);
      TimeUnit.SECONDS.sleep(sessionS);
      BoxReactions all = BoxReactions.at(metrics);
      audience.leave();
      if (pages > 0) {
        audience.tell();
      }
      return all.since(before);
    }
  }

  /** Who listens. */
  private final class Audience {

    private final Latencies lag = new Latencies();
    private final LongAdder characters = new LongAdder();
    private final LongAdder gone = new LongAdder();
    private final List<WebSocket> sockets = new ArrayList<>();

    Audience(int port, int pages) {
      URI live = URI.create("ws://127.0.0.1:" + port + "/api/live");
      HttpClient client = HttpClient.newHttpClient();
      for (int page = 0; page < pages; page++) {
        sockets.add(client.newWebSocketBuilder().buildAsync(live, new Page()).join());
      }
    }

    void leave() {
      sockets.forEach(WebSocket::abort);
    }

    void tell() {
      out.printf(
          "  lag of a page: p50 %.0f ms, p99 %.0f ms, max %.0f ms of %,d pieces of news; goal: p99"
              + " under %.0f ms%n",
          lag.us(50) / 1e3, lag.us(99) / 1e3, lag.us(100) / 1e3, lag.count(), GOAL_LAG_MS);
      out.printf("  check value: %,d characters, %d pages cut off%n", characters.sum(), gone.sum());
    }

    private final class Page implements WebSocket.Listener {
      private final StringBuilder message = new StringBuilder();

      @Override
      public CompletionStage<?> onText(WebSocket socket, CharSequence text, boolean last) {
        message.append(text);
        if (last) {
          note(message);
          message.setLength(0);
        }
        socket.request(1);
        return null;
      }

      private void note(CharSequence whole) {
        long nowMs = System.currentTimeMillis();
        characters.add(whole.length());
        for (Matcher news = NEWS.matcher(whole); news.find(); ) {
          lag.note(TimeUnit.MILLISECONDS.toNanos(nowMs - Long.parseLong(news.group(1))));
        }
      }

      @Override
      public CompletionStage<?> onClose(WebSocket socket, int status, String reason) {
        gone.increment();
        return null;
      }
    }
  }
}
