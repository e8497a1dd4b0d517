package tappet.bridge.pages;

import io.netty.channel.ChannelHandlerContext;
import io.netty.handler.codec.http.FullHttpRequest;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.QueryStringDecoder;
import io.netty.util.concurrent.ScheduledFuture;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.web.Reply;

/** One question of a page, and where its answer goes. */
record Question(
    ChannelHandlerContext context,
    FullHttpRequest request,
    QueryStringDecoder target,
    Desks desks) {

  /** The box answers at once, or hangs. */
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private static final Logger LOG = LoggerFactory.getLogger(Question.class);

  /**
   * @throws IllegalArgumentException if what is asked for makes no sense
   */
  static Question of(ChannelHandlerContext context, FullHttpRequest request, Desks desks) {
    return new Question(context, request, new QueryStringDecoder(request.uri()), desks);
  }

  String path() {
    return target.path();
  }

  boolean is(HttpMethod method) {
    return request.method().equals(method);
  }

  /** What is asked with; nothing where it is left out. */
  String parameter(String name) {
    return target.parameters().getOrDefault(name, List.of("")).get(0);
  }

  /** Each once. */
  Map<String, String> parameters() {
    Map<String, String> first = new HashMap<>();
    target.parameters().forEach((name, values) -> first.put(name, values.get(0)));
    return first;
  }

  /** A number that is asked with; none counts as 0. */
  long number(String name) {
    String written = parameter(name);
    return written.isEmpty() ? 0 : Long.parseLong(written);
  }

  String body() {
    return request.content().toString(StandardCharsets.UTF_8);
  }

  void answer(HttpResponseStatus status, String json) {
    Answers.json(context, status, json);
  }

  /** It is answered as it was asked. */
  void ok(String json) {
    answer(HttpResponseStatus.OK, json);
  }

  /** What became of a sentence or a wish. */
  void answer(Reply reply) {
    answer(
        HttpResponseStatus.valueOf(reply.kind().status()),
        desks.json().answer(desks.nowMs(), reply));
  }

  /** It is not answered, which is counted. */
  void refuse(Refusals.Reason reason, HttpResponseStatus status, String words) {
    desks.refusals().count(reason);
    answer(status, ApiJson.text(desks.nowMs(), words));
  }

  /** What it asks to be done is not done, which is counted. */
  void forbid(Refusals.Reason reason, HttpResponseStatus status, String words) {
    desks.refusals().count(reason);
    answer(status, desks.json().answer(desks.nowMs(), "not allowed", words));
  }

  void noSuchPage() {
    refuse(
        Refusals.Reason.NO_SUCH_PAGE,
        HttpResponseStatus.NOT_FOUND,
        "there is no such page; begin at /");
  }

  /**
   * Goes on, on the loop of this connection, when what is asked for is there. Whoever waits for the
   * box is told after ten seconds that it does not answer.
   */
  <T> void when(CompletableFuture<T> coming, Consumer<T> then) {
    when(coming, PATIENCE, then);
  }

  /** The same for what may take longer. */
  <T> void when(CompletableFuture<T> coming, Duration patience, Consumer<T> then) {
    CompletableFuture<T> inTime = coming.copy();
    ScheduledFuture<?> limit =
        context
            .executor()
            .schedule(
                () -> inTime.completeExceptionally(late(patience)),
                patience.toMillis(),
                TimeUnit.MILLISECONDS);
    var unused =
        inTime.whenCompleteAsync(
            (found, failure) -> {
              limit.cancel(false);
              if (failure == null) {
                then.accept(found);
              } else {
                LOG.warn("A question of a page failed", failure);
                answer(
                    HttpResponseStatus.SERVICE_UNAVAILABLE,
                    ApiJson.text(desks.nowMs(), notAnswered()));
              }
            },
            context.executor());
  }

  private static TimeoutException late(Duration patience) {
    return new TimeoutException("no answer within " + patience.toSeconds() + " s");
  }

  /** What was to be done may have been done by then, or may be done later. */
  private String notAnswered() {
    return is(HttpMethod.POST)
        ? "the daemon did not answer; it may or may not have been done"
        : "the daemon cannot answer now; try again";
  }
}
