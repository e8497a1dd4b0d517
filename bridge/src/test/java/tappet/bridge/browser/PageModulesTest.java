package tappet.bridge.browser;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import tappet.bridge.QuickDaemon;
import tappet.sentence.Command.Heading;

/**
 * What the pages say where something is not known: modules by themselves, in a real browser, with
 * clocks, sockets and answers of the test's own. Common practice, no source.
 */
class PageModulesTest extends Browsers {

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

  @BeforeEach
  void open() {
    page.at(daemon.host());
  }

  /** What a piece of module code comes to, on a page that does nothing by itself. */
  private static String run(String module) {
    page.open("icon.svg");
    return (String)
        page.driver()
            .executeAsyncScript(
                "const done = arguments[arguments.length - 1];\n(async () => {"
                    + module
                    + "})().then(it => done(String(it)), error => done('failed: ' + error));");
  }

  /** A Live on a socket and clocks that stand until they are moved. */
  private static final String LIVE =
      """
      const {Live} = await import('/live.js');
      const sockets = [];
      window.WebSocket = class {
        static OPEN = 1;
        readyState = 1;
        constructor(url) { this.search = new URL(url).search; sockets.push(this); }
        close() { this.closed = true; }
        say(message) { this.onmessage({data: JSON.stringify({run: 'a', seq: 7, at: wallMs, ...message})}); }
      };
      let wallMs = Date.now();
      Date.now = () => wallMs;
      performance.now = () => 0;
      let tick;
      window.setInterval = listen => { tick = listen; };
      const live = new Live().start();
      sockets[0].say({state: {}});
      const pass = ms => { wallMs += ms; };
      const told = [];
      const tell = () => told.push(`${live.alive ? 'alive' : 'lost'} on ${sockets.length}`);
      """;

  @Test
  void aPageThatHasSleptShowsNothingAsLiveUntilItHasHeardAgain() {
    assertEquals(
        "alive on 1, lost on 2, true, ?run=a&after=7, lost on 2, alive on 2",
        run(
            LIVE
                + """
                pass(1000); tick(); tell();
                pass(3_600_000); tick(); tell();
                told.push(sockets[0].closed, sockets[1].search);
                sockets[0].say({}); tell();
                sockets[1].say({}); tell();
                return told.join(', ');
                """));
  }

  @Test
  void aPageThatIsSeenAgainAfterAWhileAsksAtOnce() {
    assertEquals(
        "alive on 1, alive on 1, lost on 2",
        run(
            LIVE
                + """
                tick(); tell();
                const seen = () => document.dispatchEvent(new Event('visibilitychange'));
                pass(3000); seen(); tell();
                pass(8000); seen(); tell();
                return told.join(', ');
                """));
  }

  @Test
  void aClockThatIsSetBackIsNoSleep() {
    assertEquals(
        "alive on 1, alive on 1",
        run(
            LIVE
                + """
                pass(-3_600_000); tick(); tell();
                pass(1000); tick(); tell();
                return told.join(', ');
                """));
  }

  /** What is not refused in words may have been done. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "200 | {\"answer\": \"done\", \"text\": \"lined\"}   | done: lined",
        "409 | {\"answer\": \"refused\", \"text\": \"held\"} | refused: held",
        "503 | {\"answer\": \"busy\", \"text\": \"wait\"}    | busy: wait",
        "403 | {\"text\": \"no leave\"}                      | refused: no leave",
        "404 | nothing                                       | refused: the daemon says 404",
        "503 | {\"text\": \"not known\"}                     | unknown: not known",
        "502 | nothing                                       | unknown: the daemon says 502; it may or may not have been done",
        "200 | {\"answer\": \"do                             | unknown: the daemon was not heard; it may or may not have been done"
      })
  void whatIsNotAnsweredIsNotCalledRefused(int status, String body, String told) {
    assertEquals(
        told,
        run(
            """
            const {tell} = await import('/tell.js');
            window.fetch = async () => new Response(`%s`, {status: %d});
            const {answer, text} = await tell('line t2e to t4e');
            return `${answer}: ${text}`;
            """
                .formatted(body, status)));
  }

  @Test
  void aTimeOfAnotherDayIsToldWithItsDay() {
    assertEquals(
        "true, true, true, true, true",
        run(
            """
            const {since} = await import('/words.js');
            const now = new Date(2026, 10, 27, 9, 30).getTime();
            const time = /^23:59:58$/;
            return [
              since(new Date(2026, 10, 27, 23, 59, 58).getTime(), now).match(time) !== null,
              since(new Date(2026, 10, 27, 0, 0, 0).getTime(), now) === '00:00:00',
              /26\\D.*23:59:58/.test(since(new Date(2026, 10, 26, 23, 59, 58).getTime(), now)),
              /Oct.*27.*09:30:00|27.*09:30:00/.test(since(new Date(2026, 9, 27, 9, 30).getTime(), now)),
              /2025.*09:30:00/.test(since(new Date(2025, 10, 27, 9, 30).getTime(), now)),
            ].join(', ');
            """));
  }

  /** A clock that is followed and not heard has no facts. */
  @ParameterizedTest
  @ValueSource(strings = {"dispatcher.html", "crew.html", "owner.html", "wall.html?show=clock"})
  void aClockThatIsNotHeardIsNotSaidToStand(String name) {
    Object script =
        page.driver()
            .executeCdpCommand(
                "Page.addScriptToEvaluateOnNewDocument", Map.of("source", WITHOUT_CLOCK))
            .get("identifier");
    try {
      page.open(name);
      page.until("body:not([data-lost]) .clock", clock -> clock.getText().contains("––:––"));
      String words = page.find("body:not([data-lost]) .clock").getText();
      assertEquals("not known", words.replaceAll("(?s).*(not known|stands|runs).*", "$1"), words);
    } finally {
      page.driver()
          .executeCdpCommand(
              "Page.removeScriptToEvaluateOnNewDocument", Map.of("identifier", script));
    }
  }

  private static final String WITHOUT_CLOCK =
      """
      window.WebSocket = class extends WebSocket {
        set onmessage(hear) {
          super.onmessage = ({data}) => {
            const message = JSON.parse(data);
            delete message.state?.clock;
            delete message.changed?.clock;
            hear({data: JSON.stringify(message)});
          };
        }
      };
      """;

  @Test
  void anAddressThatIsNoneStillShowsItsSheet() {
    page.open("owner.html#why=50%");
    page.until("main", sheet -> sheet.getText().contains("Why?"));
  }

  @Test
  void aPageIsReadAnewOnlyWhenTheDaemonAnswers() {
    assertEquals(
        "3 asked, 1 read anew",
        run(
            """
            const {beginAnew} = await import('/begin.js');
            let asked = 0;
            let anew = 0;
            window.setTimeout = go => void Promise.resolve().then(go);
            window.fetch = async () => {
              asked++;
              if (asked === 1) throw new TypeError('not there');
              return new Response('{}', {status: asked === 2 ? 503 : 200});
            };
            await new Promise(done => beginAnew(() => { anew++; done(); }));
            return `${asked} asked, ${anew} read anew`;
            """));
  }
}
