package tappet.bridge.pages;

import static org.awaitility.Awaitility.await;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.concurrent.CompletionException;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.JavaProcess;
import tappet.bridge.QuickDaemon;
import tappet.sentence.Command.Heading;

/** The server of the pages over real sockets, on a daemon that runs the simulated line. */
class PagesTest {

  @TempDir static Path folder;
  private static QuickDaemon daemon;

  @BeforeAll
  static void start() throws IOException {
    daemon = QuickDaemon.start(folder, QuickDaemon.train("Extra 41", "west-main", Heading.EAST));
  }

  @AfterAll
  static void stop() {
    daemon.close();
  }

  private static Browser browser() {
    return new Browser(daemon.host());
  }

  private static Browser entered(Role role, String name, String territory) {
    Browser browser = browser();
    Browser.Got got = browser.enter(role, daemon.pin(role), name, territory);
    assertEquals(200, got.status(), got.text());
    return browser;
  }

  private static long refused(String why) {
    return browser().get("/api/health").json().path("refused").path(why).asLong();
  }

  @Test
  void whoOnlyLooksCommandsNothing() {
    long before = refused("not allowed");
    Browser.Got got = browser().tell("line t2e to t4e");
    assertEquals(401, got.status());
    assertEquals("enter with a PIN first", got.json().path("text").asText());
    assertEquals("viewer", browser().get("/api/me").json().path("role").asText());
    assertEquals(before + 1, refused("not allowed"));
  }

  @Test
  void dispatcherLinesARouteAndEveryPageSeesIt() {
    Browser anna = entered(Role.DISPATCHER, "Anna", "west");
    try (Ear one = Ear.at(daemon.host());
        Ear other = Ear.at(daemon.host())) {
      one.untilFact("section", "tilling-main", "is", "clear");
      lineWhenItCanBe(anna);
      one.untilFact("signal", "t2e", "route", "t2e-t4e");
      other.untilFact("signal", "t2e", "route", "t2e-t4e");
      assertEquals(200, anna.tell("cancel t2e").status());
      one.until(message -> message.path("changed").path("signal").path("t2e").has("until"));
      one.until(
          message ->
              message
                      .path("changed")
                      .path("signal")
                      .path("t2e")
                      .path("shows")
                      .asText()
                      .equals("stop")
                  && !message.path("changed").path("signal").path("t2e").has("route"));
    }
    assertEquals("viewer", anna.post("/api/leave", "").json().path("role").asText());
    assertEquals(401, anna.tell("line t2e to t4e").status());
  }

  /** Sections are vacant only some time after they are clear, and nothing is lined at the start. */
  private static void lineWhenItCanBe(Browser dispatcher) {
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> dispatcher.get("/api/way?from=t2e&to=t4e").json().path("can").asBoolean());
    assertEquals("done", dispatcher.tell("line t2e to t4e").json().path("answer").asText());
  }

  @Test
  void crewAsksAndTheDispatcherGrants() {
    Browser crew = entered(Role.CREW, "Way Freight", "");
    Browser bert = entered(Role.DISPATCHER, "Bert", "east");
    String permit = "grant permit to 'Way Freight' on creamery";
    Browser.Got direct = crew.tell(permit);
    assertEquals(403, direct.status());
    assertEquals(
        "that is for the dispatcher to say; ask for it", direct.json().path("text").asText());
    try (Ear ear = Ear.at(daemon.host())) {
      assertEquals(200, crew.tell("ask for \"" + permit + "\" by 'Way Freight'").status());
      JsonNode asked = ear.until(message -> message.path("changed").has("ask"));
      JsonNode ask = asked.path("changed").path("ask").elements().next();
      assertEquals("Way Freight", ask.path("who").asText());
      assertEquals(permit, ask.path("sentence").asText());
      await().atMost(JavaProcess.PATIENCE).until(() -> bert.tell(permit).status() == 200);
      ear.until(message -> message.path("changed").has("protection"));
      String number = asked.path("changed").path("ask").fieldNames().next();
      assertTrue(
          ear.all().stream()
                  .anyMatch(message -> message.path("changed").path("ask").path(number).isNull())
              || ear.until(message -> message.path("changed").path("ask").path(number).isNull())
                  != null);
    }
    assertEquals(200, crew.tell("return permit of 'Way Freight'").status());
    bert.post("/api/leave", "");
  }

  @Test
  void eachDispatcherHasTheirTerritory() {
    Browser west = entered(Role.DISPATCHER, "West", "west");
    Browser.Got beyond = west.tell("throw c1 reverse");
    assertEquals(403, beyond.status());
    assertEquals(
        "that lies in territory east, and yours is west", beyond.json().path("text").asText());

    Browser other = browser();
    Browser.Got taken = other.enter(Role.DISPATCHER, daemon.pin(Role.DISPATCHER), "East", "west");
    assertEquals(409, taken.status());
    assertEquals("West has west; it must be given back first", taken.json().path("text").asText());

    Browser east = entered(Role.DISPATCHER, "East", "east");
    assertEquals(409, east.post("/api/territory", "").status());
    west.post("/api/leave", "");
    assertEquals(200, east.post("/api/territory", "west").status());
    assertEquals(200, east.post("/api/territory", "").status());
    assertEquals(400, east.post("/api/territory", "north").status());
    east.post("/api/leave", "");
  }

  @Test
  void aPageThatWasAwayResumesWithoutAGap() {
    Browser owner = entered(Role.OWNER, "Olga", "");
    String run;
    long seq;
    try (Ear ear = Ear.at(daemon.host())) {
      JsonNode whole = ear.until(message -> message.has("state"));
      run = whole.path("run").asText();
      seq = whole.path("seq").asLong();
    }
    owner.tell("set clock to 07:00");
    owner.tell("set clock to 08:00");
    try (Ear again = Ear.after(daemon.host(), run, seq)) {
      again.untilFact("clock", "clock", "shows", "08:00");
      long last = seq;
      for (JsonNode message : again.all()) {
        assertFalse(message.has("state"), message::toString);
        assertTrue(message.path("seq").asLong() - last <= 1, message::toString);
        last = message.path("seq").asLong();
      }
    }
    try (Ear stranger = Ear.after(daemon.host(), "other", seq)) {
      assertTrue(stranger.next().has("state"));
    }
  }

  @Test
  void aNameFollowsItsTrain() {
    Browser owner = entered(Role.OWNER, "Olga", "");
    try (Ear ear = Ear.at(daemon.host())) {
      ear.untilFact("section", "west-main", "train", "Extra 41");
      Browser.Got clear = owner.tell("name 'Ghost' on corvane-main");
      assertEquals(409, clear.status());
      assertTrue(clear.text().contains("no train stands there"), clear.text());
      assertEquals(409, owner.tell("name 'Mail' on west-main").status());
      assertEquals(200, owner.tell("drop name 'Extra 41'").status());
      assertEquals(200, owner.tell("name 'Mail' on west-main").status());
      ear.untilFact("section", "west-main", "train", "Mail");
      assertEquals(200, owner.tell("drop name 'Mail'").status());
      assertEquals(200, owner.tell("name 'Extra 41' on west-main").status());
    }
  }

  // What is in force on the railroad is the owner's to say, and nobody else's.
  @Test
  void onlyTheOwnerHasNewFilesTakeOver() {
    assertEquals(401, browser().post("/api/reload", "try unproven").status());
    Browser dispatcher = entered(Role.DISPATCHER, "Dora", "west");
    assertEquals(403, dispatcher.post("/api/reload", "try unproven").status());
    assertEquals(403, dispatcher.get("/api/reload").status());
    Browser owner = entered(Role.OWNER, "Olga", "");
    assertEquals(403, owner.postWithoutToken("/api/reload", "try unproven").status());
    assertEquals(200, owner.post("/api/reload", "try unproven").status());
    await()
        .atMost(JavaProcess.PATIENCE)
        .until(() -> owner.get("/api/reload").json().path("phase").asText().equals("possible"));
    assertEquals(
        "nothing has changed", owner.get("/api/reload").json().path("report").get(1).asText());
  }

  @Test
  void ownersPagesAreForTheOwner() {
    assertEquals(403, browser().get("/api/rules").status());
    Browser owner = entered(Role.OWNER, "Olga", "");
    JsonNode rules = owner.get("/api/rules").json();
    assertEquals("proven", rules.path("verdict").asText());
    assertTrue(rules.path("lines").size() > 50);
    JsonNode nodes = owner.get("/api/nodes").json();
    assertEquals("the simulator", nodes.path("connections").get(0).path("name").asText());
    assertTrue(nodes.path("nodes").size() >= 5, nodes::toString);
    assertTrue(owner.get("/api/events?after=0").json().path("last").asLong() > 0);
    assertTrue(browser().get("/api/diary").json().path("occupied").size() > 0);
    assertTrue(browser().get("/api/news?find=SIMULATOR").json().path("news").size() > 0);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/../../etc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/page/../openapi.json",
        "/lib/lit-html/../../../../META-INF/MANIFEST.MF",
        "/dispatcher.js%00.html",
        "/logback.xml",
        "/api/nothing"
      })
  void noPathLeadsAnywhereElse(String path) throws IOException {
    long before = refused("no such page");
    String answer = raw("GET " + path + " HTTP/1.1\r\nHost: " + daemon.host() + "\r\n\r\n");
    assertTrue(answer.startsWith("HTTP/1.1 404 "), answer);
    assertEquals(before + 1, refused("no such page"));
  }

  @Test
  void strangersAreRefusedAndCounted() throws IOException {
    Browser owner = entered(Role.OWNER, "Olga", "");
    long sites = refused("foreign site");
    assertEquals(
        403,
        owner
            .postWithoutToken("/api/tell", "start clock", "Origin", "http://elsewhere.example")
            .status());
    assertEquals(sites + 1, refused("foreign site"));

    long tokens = refused("no token");
    Browser.Got withoutToken = owner.postWithoutToken("/api/tell", "start clock");
    assertEquals(403, withoutToken.status());
    assertTrue(withoutToken.text().contains("X-Tappet"), withoutToken.text());
    assertEquals(tokens + 1, refused("no token"));

    long hosts = refused("foreign host");
    String rebound = raw("GET /api/plan HTTP/1.1\r\nHost: evil.example.com\r\n\r\n");
    assertTrue(rebound.startsWith("HTTP/1.1 421 "), rebound);
    assertEquals(hosts + 1, refused("foreign host"));

    long malformed = refused("malformed");
    assertTrue(raw("HELLO\r\n\r\n").startsWith("HTTP/1.1 400 "));
    assertTrue(
        raw("GET /api/events?after=x HTTP/1.1\r\nHost: " + daemon.host() + "\r\n\r\n")
            .contains(" 403 "));
    assertEquals(malformed + 1, refused("malformed"));
  }

  @Test
  void whatIsTooLargeIsNotRead() throws IOException {
    long before = refused("too large");
    String head = "POST /api/tell HTTP/1.1\r\nHost: " + daemon.host() + "\r\nContent-Length: ";
    assertTrue(raw(head + "9000000\r\n\r\nline").startsWith("HTTP/1.1 413 "));
    String longLine = "GET /" + "a".repeat(20_000) + " HTTP/1.1\r\nHost: x\r\n\r\n";
    assertTrue(raw(longLine).startsWith("HTTP/1.1 413 "));
    assertEquals(before + 2, refused("too large"));
  }

  @Test
  void aSocketOfAnotherSiteIsRefused() {
    CompletionException refused =
        assertThrows(
            CompletionException.class,
            () ->
                HttpClient.newHttpClient()
                    .newWebSocketBuilder()
                    .header("Origin", "http://elsewhere.example")
                    .buildAsync(
                        URI.create("ws://" + daemon.host() + "/api/live"),
                        new WebSocket.Listener() {})
                    .join());
    assertTrue(refused.getMessage().contains("WebSocketHandshakeException"), refused::toString);
  }

  @Test
  void everyAnswerTellsTheBrowserToBeStrict() {
    Browser.Got got = browser().get("/api/plan");
    String policy = got.whole().headers().firstValue("content-security-policy").orElse("");
    assertTrue(policy.startsWith("default-src 'none'; script-src 'self'"), policy);
    assertFalse(policy.contains("unsafe"), policy);
    assertEquals("nosniff", got.whole().headers().firstValue("x-content-type-options").orElse(""));
    Browser entering = browser();
    String cookie =
        entering
            .enter(Role.CREW, daemon.pin(Role.CREW), "Crew", "")
            .whole()
            .headers()
            .firstValue("set-cookie")
            .orElse("");
    assertTrue(cookie.contains("HTTPOnly"), cookie);
    assertTrue(cookie.contains("SameSite=Strict"), cookie);
  }

  /** The browser keeps a session for as long as the daemon does. */
  @Test
  void aCookieLastsOnWithItsSession() {
    Browser crew = entered(Role.CREW, "Ida", "");
    String given = "Max-Age=" + Sessions.IDLE.toSeconds();
    assertTrue(cookie(crew.get("/api/me")).contains(given));
    assertTrue(cookie(crew.tell("withdraw ask 99")).contains(given));
    assertEquals("", cookie(browser().get("/api/me")));
    assertEquals("", cookie(crew.get("/api/plan")));
    assertTrue(cookie(crew.post("/api/leave", "")).contains("Max-Age=0"));
  }

  private static String cookie(Browser.Got got) {
    return got.whole().headers().firstValue("set-cookie").orElse("");
  }

  /** What the server answers to bytes that no browser would send. */
  private static String raw(String request) throws IOException {
    String[] host = daemon.host().split(":", 2);
    try (Socket socket = new Socket(host[0], Integer.parseInt(host[1]))) {
      socket.setSoTimeout(30_000);
      socket.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
      InputStream in = socket.getInputStream();
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
