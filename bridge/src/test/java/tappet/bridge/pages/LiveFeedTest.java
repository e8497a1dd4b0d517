package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.netty.channel.embedded.EmbeddedChannel;
import io.netty.handler.codec.http.websocketx.TextWebSocketFrame;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.view.ChartBook;
import tappet.bridge.view.Demo;
import tappet.bridge.view.Diary;
import tappet.bridge.view.Facts;
import tappet.bridge.view.NewsBook;
import tappet.bridge.view.Sight;

/**
 * When pages hear that the daemon is still there, on clocks of the test's own. What was must not
 * pass for what is: 49 CFR 236.5, for what people see.
 */
class LiveFeedTest {

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final long LONG_MS = 60_000;

  private final EmbeddedChannel heart = new EmbeddedChannel();
  private final EmbeddedChannel page = new EmbeddedChannel();
  private final Railroad railroad = new Railroad();
  private final NewsStand news = new NewsStand(new ChartBook(() -> 0), () -> 0);
  private LiveFeed feed;
  private boolean boxAnswers = true;
  private long wallMs = 1_795_716_000_000L;
  private long nowNs = Long.MAX_VALUE;

  /** Is looked at at once, unless it keeps whoever looks waiting. */
  private static final class Railroad extends NoOffice {
    private final Deque<CompletableFuture<Sight>> pending = new ArrayDeque<>();
    private boolean hangs;
    private boolean overrun;
    private String shows = "stop";

    @Override
    public CompletableFuture<Sight> sight() {
      CompletableFuture<Sight> sight = new CompletableFuture<>();
      pending.add(sight);
      if (!hangs) {
        answer();
      }
      return sight;
    }

    private void answer() {
      while (!pending.isEmpty()) {
        if (overrun) {
          pending.remove().completeExceptionally(new IllegalStateException("overrun"));
        } else {
          pending.remove().complete(seen());
        }
      }
    }

    private Sight seen() {
      return new Sight(Map.of("signal", Map.of("t2e", new Facts(Map.of("shows", shows)))));
    }
  }

  @BeforeEach
  void start() {
    heart.freezeTime();
    Records records = new Records(new Diary(Demo.layout()), new NewsBook());
    feed =
        new LiveFeed(
            heart.eventLoop(),
            railroad,
            news,
            records,
            () -> boxAnswers,
            () -> wallMs,
            () -> nowNs);
    feed.start();
    feed.add(page, Optional.empty());
  }

  private void pass(long spanMs) {
    for (long passedMs = 0; passedMs < spanMs; passedMs += LiveFeed.TICK_MS) {
      wallMs += LiveFeed.TICK_MS;
      nowNs += TimeUnit.MILLISECONDS.toNanos(LiveFeed.TICK_MS);
      heart.advanceTimeBy(LiveFeed.TICK_MS, TimeUnit.MILLISECONDS);
      heart.runPendingTasks();
      heart.runPendingTasks();
    }
  }

  /** What a page has been told since this was asked last. */
  private static List<JsonNode> told(EmbeddedChannel page) {
    List<JsonNode> told = new ArrayList<>();
    TextWebSocketFrame frame = page.readOutbound();
    while (frame != null) {
      told.add(read(frame.text()));
      frame.release();
      frame = page.readOutbound();
    }
    return told;
  }

  private static JsonNode read(String text) {
    try {
      return JSON.readTree(text);
    } catch (JsonProcessingException e) {
      throw new AssertionError(text, e);
    }
  }

  private static String shows(JsonNode message, String part) {
    return message.path(part).path("signal").path("t2e").path("shows").asText();
  }

  @Test
  void pageHearsTheWholeAndThenThatTheDaemonIsThere() {
    pass(LiveFeed.SILENCE_MAX_MS);
    assertEquals("stop", shows(told(page).get(0), "state"));
    pass(10 * LiveFeed.SILENCE_MAX_MS);
    assertEquals(10, told(page).size());
  }

  @Test
  void silenceIsNoLongerThanItMayBeWhateverTheClockIsSetTo() {
    pass(LiveFeed.SILENCE_MAX_MS);
    for (long jumpMs : new long[] {Duration.ofDays(1).toMillis(), -Duration.ofDays(2).toMillis()}) {
      told(page);
      wallMs += jumpMs;
      pass(LiveFeed.SILENCE_MAX_MS);
      assertEquals(1, told(page).size());
    }
  }

  @Test
  void nothingIsSaidWhileTheBoxDoesNotAnswer() {
    pass(LONG_MS);
    boxAnswers = false;
    told(page);
    railroad.shows = "clear";
    news.touch();
    pass(LONG_MS);
    assertEquals(List.of(), told(page));

    boxAnswers = true;
    pass(LiveFeed.TICK_MS);
    assertEquals("clear", shows(told(page).get(0), "changed"));
  }

  @Test
  void aLookThatIsNotAnsweredEndsWhatIsSaid() {
    pass(LONG_MS);
    railroad.hangs = true;
    news.touch();
    pass(LiveFeed.LOOK_MAX_MS + LiveFeed.TICK_MS);
    told(page);
    pass(LONG_MS);
    assertEquals(List.of(), told(page));

    railroad.hangs = false;
    railroad.answer();
    pass(LiveFeed.SILENCE_MAX_MS);
    assertEquals(1, told(page).size());
  }

  @Test
  void aLookThatFailsEndsWhatIsSaidUntilOneSucceeds() {
    pass(LONG_MS);
    railroad.overrun = true;
    news.touch();
    pass(LiveFeed.TICK_MS);
    told(page);
    pass(LONG_MS);
    assertEquals(List.of(), told(page));

    railroad.overrun = false;
    pass(LiveFeed.SILENCE_MAX_MS);
    assertFalse(told(page).isEmpty());
  }

  @Test
  void pageThatJoinsMeanwhileIsNotShownWhatWas() {
    pass(LONG_MS);
    String run = told(page).get(0).path("run").asText();
    boxAnswers = false;
    pass(LiveFeed.TICK_MS);
    EmbeddedChannel fresh = new EmbeddedChannel();
    EmbeddedChannel back = new EmbeddedChannel();
    EmbeddedChannel gone = new EmbeddedChannel();
    feed.add(fresh, Optional.empty());
    feed.add(back, Optional.of(new LiveFeed.Heard(run, 0)));
    feed.add(gone, Optional.empty());
    assertEquals(4, feed.pages());
    var unused = gone.close();
    pass(LONG_MS);
    assertEquals(List.of(), told(fresh));
    assertEquals(List.of(), told(back));
    assertEquals(3, feed.pages());

    railroad.shows = "clear";
    boxAnswers = true;
    pass(LiveFeed.TICK_MS);
    assertEquals("clear", shows(told(fresh).get(0), "state"));
    assertEquals("clear", shows(told(back).get(0), "changed"));
    assertTrue(told(gone).isEmpty());
  }

  /** Of other files nothing has been seen yet. */
  @Test
  void pageThatJoinsOnOtherFilesHearsTheWholeOnce() {
    pass(LONG_MS);
    railroad.hangs = true;
    feed.beginAnew();
    EmbeddedChannel fresh = new EmbeddedChannel();
    feed.add(fresh, Optional.empty());
    told(page);
    pass(LiveFeed.LOOK_MAX_MS);
    assertEquals(List.of(), told(page));
    railroad.hangs = false;
    railroad.answer();
    pass(LiveFeed.TICK_MS);
    for (EmbeddedChannel listener : List.of(page, fresh)) {
      List<JsonNode> told = told(listener);
      assertEquals(1, told.size());
      assertEquals("stop", shows(told.get(0), "state"));
    }
  }
}
