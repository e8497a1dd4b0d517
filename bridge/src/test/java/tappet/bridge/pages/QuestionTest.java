package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.embedded.EmbeddedChannel;
import io.netty.handler.codec.http.DefaultFullHttpRequest;
import io.netty.handler.codec.http.FullHttpResponse;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpVersion;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import tappet.bridge.view.ChartBook;
import tappet.bridge.view.Demo;
import tappet.bridge.view.Diary;
import tappet.bridge.view.Mentions;
import tappet.bridge.view.NewsBook;

/** Nobody waits for ever for a daemon whose box hangs; on a clock of the test's own. */
class QuestionTest {

  private static final long PATIENCE_S = 10;

  private final EmbeddedChannel connection =
      new EmbeddedChannel(new ChannelInboundHandlerAdapter());
  private final CompletableFuture<String> coming = new CompletableFuture<>();

  @BeforeEach
  void freeze() {
    connection.freezeTime();
  }

  private void ask(HttpMethod method) {
    Question question =
        Question.of(
            connection.pipeline().firstContext(),
            new DefaultFullHttpRequest(HttpVersion.HTTP_1_1, method, "/api/question"),
            desks());
    question.when(coming, question::ok);
  }

  private Desks desks() {
    NewsStand news = new NewsStand(new ChartBook(() -> 0), () -> 0);
    Records records = new Records(new Diary(Demo.layout()), new NewsBook());
    NoOffice office = new NoOffice();
    LiveFeed feed =
        new LiveFeed(connection.eventLoop(), office, news, records, () -> true, () -> 0, () -> 0);
    return new Desks(
        office,
        feed,
        records,
        new StaticFiles(),
        new ApiJson(new Mentions(Demo.layout())),
        new Refusals(),
        "{}",
        "{}",
        place -> Optional.empty(),
        () -> 0);
  }

  private void pass(long seconds) {
    connection.advanceTimeBy(seconds, TimeUnit.SECONDS);
    connection.runPendingTasks();
    connection.runPendingTasks();
  }

  private void assertNotAnsweredInTime(String words) {
    pass(PATIENCE_S - 1);
    assertNull(connection.readOutbound());
    pass(1);
    FullHttpResponse answer = connection.readOutbound();
    assertEquals(503, answer.status().code());
    String text = answer.content().toString(StandardCharsets.UTF_8);
    assertTrue(text.contains(words), text);
    answer.release();
    coming.complete("{}");
    pass(PATIENCE_S);
    assertNull(connection.readOutbound());
  }

  @Test
  void whoAsksIsToldAfterAWhileThatNothingIsKnown() {
    ask(HttpMethod.GET);
    assertNotAnsweredInTime("the daemon cannot answer now; try again");
  }

  @Test
  void whoHasSomethingDoneIsToldThatItMayHaveBeenDone() {
    ask(HttpMethod.POST);
    assertNotAnsweredInTime("the daemon did not answer; it may or may not have been done");
  }

  @Test
  void whatIsAnsweredInTimeIsAnsweredOnce() {
    ask(HttpMethod.GET);
    pass(PATIENCE_S - 1);
    coming.complete("{}");
    pass(PATIENCE_S);
    FullHttpResponse answer = connection.readOutbound();
    assertEquals(200, answer.status().code());
    answer.release();
    assertNull(connection.readOutbound());
  }
}
