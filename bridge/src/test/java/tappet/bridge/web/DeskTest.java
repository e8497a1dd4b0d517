package tappet.bridge.web;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The desk over plain sockets: who may ask, and what cannot disturb it. */
class DeskTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final int BODY_MAX = 4096;

  private final MultiThreadIoEventLoopGroup loops =
      new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
  private final Watchers watchers = new Watchers();
  private final RecordingClerk clerk = new RecordingClerk();
  private Desk desk;

  @BeforeEach
  void open() throws IOException {
    var anyPort = new InetSocketAddress(InetAddress.getLoopbackAddress(), 0);
    desk = Desk.open(loops.next(), anyPort, clerk, watchers);
  }

  @AfterEach
  void close() {
    desk.close();
    loops.shutdownGracefully(0, 2, TimeUnit.SECONDS).awaitUninterruptibly();
  }

  @Test
  void sentenceIsHandedToTheClerk() throws IOException {
    assertEquals(200, status(post("127.0.0.1", "", "line t2e to t4e")));
    assertEquals(List.of("tell line t2e to t4e"), clerk.asked);
  }

  @ParameterizedTest
  @ValueSource(strings = {"localhost", "localhost:12080", "192.168.1.20:12080", "[::1]:12080"})
  void addressesAndThisMachineAreGoodHosts(String host) throws IOException {
    assertEquals(200, status(post(host, "", "line t2e to t4e")));
  }

  /** Names pointed at this machine by a foreign page (DNS rebinding), and none at all. */
  @ParameterizedTest
  @ValueSource(strings = {"evil.example", "localhost.evil.example", "127.0.0.1.evil.example", ""})
  void foreignHostIsRefused(String host) throws IOException {
    assertEquals(403, status(post(host, "", "line t2e to t4e")));
    assertEquals(List.of(), clerk.asked);
  }

  /** RFC 6454 §7: a browser names the page a request comes from. */
  @ParameterizedTest
  @ValueSource(strings = {"https://evil.example", "null", "http://127.0.0.1"})
  void requestFromAPageIsRefused(String origin) throws IOException {
    assertEquals(403, status(post("127.0.0.1", "Origin: " + origin + "\r\n", "cancel t2e")));
    assertEquals(List.of(), clerk.asked);
  }

  @Test
  void bodyThatIsTooLargeIsRefused() throws IOException {
    // RFC 9110 §15.5.14: 413 Content Too Large.
    assertEquals(413, status(post("127.0.0.1", "Connection: close\r\n", "x".repeat(BODY_MAX + 1))));
    assertEquals(List.of(), clerk.asked);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"GET / ", "GET /tell ", "POST /why?name=t2e ", "PUT /tell ", "GET /why/x "})
  void unknownPathIsNotFound(String line) throws IOException {
    String answer = exchange(line + "HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\n\r\n");
    assertEquals(404, status(answer));
    assertTrue(answer.contains("the desk knows POST /tell, GET /why?name=…, GET /watch"));
  }

  @Test
  void nameThatIsWrongEncodedIsABadRequest() throws IOException {
    String answer = exchange("GET /why?name=%zz HTTP/1.1\r\nHost: localhost\r\n\r\n");
    assertEquals(400, status(answer));
  }

  @Test
  void questionThatFailsIsToldAsSuch() throws IOException {
    clerk.failing = true;
    String answer = post("localhost", "", "line t2e to t4e");
    assertEquals(503, status(answer));
    assertTrue(answer.endsWith("the daemon cannot answer now: the daemon is overrun\n"), answer);
  }

  @Test
  void garbageDisturbsNobody() throws IOException {
    long seed = System.nanoTime();
    System.out.println("garbage: seed " + seed);
    Random random = new Random(seed);
    for (int i = 0; i < 50; i++) {
      byte[] garbage = new byte[random.nextInt(3_000)];
      random.nextBytes(garbage);
      try (Socket socket = connect()) {
        socket.getOutputStream().write(garbage);
      }
    }
    assertEquals(List.of(), clerk.asked);
    assertEquals(200, status(post("localhost", "", "line t2e to t4e")));
  }

  @Test
  void watcherSeesTheAlarmsThatStandAndThenWhatGoesOn() throws IOException {
    clerk.alarms = List.of("switch t1 is out of correspondence");
    try (Socket socket = connect()) {
      BufferedReader lines = watch(socket);
      awaitLine(lines, "ALARM  switch t1 is out of correspondence");
      watchers.changed("signal t2e shows approach");
      awaitLine(lines, "signal t2e shows approach");
    }
  }

  /** The exchange ends when the desk hangs up: nobody waits for ever for what is never told. */
  @Test
  void watcherWhomTheAlarmsCannotBeToldIsHungUpOn() throws IOException {
    clerk.failing = true;
    assertEquals(200, status(exchange("GET /watch HTTP/1.1\r\nHost: localhost\r\n\r\n")));
  }

  @Test
  void slowWatcherHoldsUpNeitherTheBoxNorTheOthers() throws IOException {
    try (Socket slow = connect();
        Socket quick = connect()) {
      watch(slow);
      BufferedReader lines = watch(quick);
      awaitLine(lines, "ALARM  ");
      String line = "x".repeat(1_000);
      assertTimeoutPreemptively(
          PATIENCE,
          () -> {
            while (watchers.missed() == 0) {
              watchers.changed(line);
            }
          });
      await()
          .atMost(PATIENCE)
          .until(
              () -> {
                watchers.changed("the end");
                return reads(lines, "the end");
              });
    }
  }

  private static boolean reads(BufferedReader lines, String words) throws IOException {
    while (lines.ready()) {
      if (lines.readLine().contains(words)) {
        return true;
      }
    }
    return false;
  }

  private static void awaitLine(BufferedReader lines, String words) throws IOException {
    for (String line = lines.readLine(); !line.contains(words); line = lines.readLine()) {
      // What comes before is of no interest; the socket's time-out ends a vain wait.
    }
  }

  private BufferedReader watch(Socket socket) throws IOException {
    clerk.alarms = clerk.alarms.isEmpty() ? List.of("a mark") : clerk.alarms;
    write(socket, "GET /watch HTTP/1.1\r\nHost: localhost\r\n\r\n");
    return new BufferedReader(
        new InputStreamReader(socket.getInputStream(), StandardCharsets.UTF_8));
  }

  private String post(String host, String headers, String body) throws IOException {
    return exchange(
        "POST /tell HTTP/1.1\r\nHost: %s\r\n%sContent-Length: %d\r\n\r\n%s"
            .formatted(host, headers, body.length(), body));
  }

  /** Says this, and hears all until the desk hangs up. */
  private String exchange(String request) throws IOException {
    try (Socket socket = connect()) {
      write(socket, request);
      return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  private Socket connect() throws IOException {
    Socket socket = new Socket(desk.address().getAddress(), desk.address().getPort());
    socket.setSoTimeout((int) PATIENCE.toMillis());
    return socket;
  }

  private static void write(Socket socket, String text) throws IOException {
    socket.getOutputStream().write(text.getBytes(StandardCharsets.UTF_8));
  }

  private static int status(String answer) {
    assertTrue(answer.startsWith("HTTP/1.1 "), answer);
    return Integer.parseInt(answer.substring(9, 12));
  }

  private static final class RecordingClerk implements Clerk {

    @Override
    public Reply reload(String wish) {
      return new Reply(Reply.Kind.REFUSED, "refused: " + wish + "\n");
    }

    @Override
    public String reloadText() {
      return "none\n";
    }

    final List<String> asked = new CopyOnWriteArrayList<>();
    volatile List<String> alarms = List.of();
    volatile boolean failing;

    @Override
    public CompletableFuture<Reply> tell(String sentence) {
      asked.add("tell " + sentence);
      return failing
          ? CompletableFuture.failedFuture(new IllegalStateException("the daemon is overrun"))
          : CompletableFuture.completedFuture(new Reply(Reply.Kind.DONE, "done\n"));
    }

    @Override
    public CompletableFuture<Reply> why(String name) {
      asked.add("why " + name);
      return CompletableFuture.completedFuture(new Reply(Reply.Kind.DONE, "so\n"));
    }

    @Override
    public CompletableFuture<List<String>> alarms() {
      return failing
          ? CompletableFuture.failedFuture(new IllegalStateException("the daemon is overrun"))
          : CompletableFuture.completedFuture(alarms);
    }
  }
}
