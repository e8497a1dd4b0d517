package tappet.bridge.pages;

import static io.netty.handler.codec.http.HttpHeaderNames.UPGRADE;

import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.SimpleChannelInboundHandler;
import io.netty.handler.codec.TooLongFrameException;
import io.netty.handler.codec.http.FullHttpRequest;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.QueryStringDecoder;
import io.netty.handler.codec.http.websocketx.WebSocketServerHandshaker;
import io.netty.handler.codec.http.websocketx.WebSocketServerHandshakerFactory;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.pages.Refusals.Reason;
import tappet.bridge.web.Health;
import tappet.bridge.web.Reply;
import tappet.sentence.Command;
import tappet.sentence.Sentences;
import tappet.source.Place;
import tappet.source.Problem;
import tappet.source.Problems;

/** One connection of a browser, or of another program that uses the interface. */
final class PageHandler extends SimpleChannelInboundHandler<FullHttpRequest> {

  private static final Logger LOG = LoggerFactory.getLogger(PageHandler.class);
  private static final int MESSAGE_MAX = 1_024;
  private static final String API = "/api/";

  private final Supplier<Desks> shared;
  private final Gate gate;

  /**
   * @param shared what all connections share, which may become another
   */
  PageHandler(Supplier<Desks> shared, Gate gate) {
    this.shared = shared;
    this.gate = gate;
  }

  private Desks desks() {
    return shared.get();
  }

  /** One question, and where its answer goes. */
  private record Question(
      ChannelHandlerContext context, FullHttpRequest request, QueryStringDecoder target) {

    String parameter(String name) {
      return target.parameters().getOrDefault(name, List.of("")).get(0);
    }

    /** Each once. */
    Map<String, String> parameters() {
      Map<String, String> first = new HashMap<>();
      target.parameters().forEach((name, values) -> first.put(name, values.get(0)));
      return first;
    }

    String body() {
      return request.content().toString(StandardCharsets.UTF_8);
    }

    boolean is(HttpMethod method, String path) {
      return request.method().equals(method) && target.path().equals(path);
    }
  }

  @Override
  protected void channelRead0(ChannelHandlerContext context, FullHttpRequest request) {
    try {
      if (request.decoderResult().isFailure()) {
        refuseUnread(context, request.decoderResult().cause());
      } else {
        answer(new Question(context, request, new QueryStringDecoder(request.uri())));
      }
    } catch (IllegalArgumentException e) {
      refuse(context, Reason.MALFORMED, HttpResponseStatus.BAD_REQUEST, "this is no question");
    }
  }

  private void refuseUnread(ChannelHandlerContext context, Throwable cause) {
    boolean tooLong = cause instanceof TooLongFrameException;
    refuse(
        context,
        tooLong ? Reason.TOO_LARGE : Reason.MALFORMED,
        tooLong ? HttpResponseStatus.REQUEST_ENTITY_TOO_LARGE : HttpResponseStatus.BAD_REQUEST,
        tooLong ? "that is longer than anything asked here" : "this is no HTTP");
  }

  private void answer(Question question) {
    if (!Guard.asksLocalHost(question.request())) {
      refuse(
          question.context(),
          Reason.FOREIGN_HOST,
          HttpResponseStatus.MISDIRECTED_REQUEST,
          "this is no name of this machine; use its address, or its name in your network");
    } else if (Guard.comesFromOtherSite(question.request())) {
      refuse(
          question.context(),
          Reason.FOREIGN_SITE,
          HttpResponseStatus.FORBIDDEN,
          "pages of other sites may not ask here");
    } else if (question.target().path().startsWith(API)) {
      answerApi(question);
    } else if (question.is(HttpMethod.GET, "/health")) {
      health(question);
    } else if (question.request().method().equals(HttpMethod.GET)) {
      desks()
          .files()
          .at(question.target().path())
          .ifPresentOrElse(
              file -> Answers.file(question.context(), file), () -> noSuchPage(question));
    } else {
      noSuchPage(question);
    }
  }

  /** For machines that watch machines: the status alone says whether all is well. */
  private void health(Question question) {
    Health health = desks().office().health();
    Answers.json(question.context(), health.status(), health.json());
  }

  private void noSuchPage(Question question) {
    refuse(
        question.context(),
        Reason.NO_SUCH_PAGE,
        HttpResponseStatus.NOT_FOUND,
        "there is no such page; begin at /");
  }

  private void answerApi(Question question) {
    if (question.is(HttpMethod.GET, "/api/plan")) {
      Answers.json(question.context(), HttpResponseStatus.OK, desks().plan());
    } else if (question.is(HttpMethod.GET, "/api/live")) {
      listen(question);
    } else if (question.is(HttpMethod.GET, "/api/way")) {
      when(
          desks().office().way(question.parameter("from"), question.parameter("to")),
          question,
          way -> ok(question, desks().json().way(desks().nowMs(), way)));
    } else if (question.is(HttpMethod.GET, "/api/why")) {
      why(question);
    } else if (question.is(HttpMethod.GET, "/api/notes")) {
      notes(question);
    } else if (question.is(HttpMethod.GET, "/api/me")) {
      ok(question, ApiJson.me(desks().nowMs(), session(question)));
    } else if (question.is(HttpMethod.GET, "/api/health")) {
      ok(question, desks().health());
    } else if (question.is(HttpMethod.GET, "/api/openapi.json")) {
      ok(question, desks().openApi());
    } else if (question.is(HttpMethod.GET, "/api/diary")) {
      ok(question, desks().records().diary().json(number(question, "since"), desks().nowMs()));
    } else if (question.is(HttpMethod.GET, "/api/news")) {
      ok(question, desks().records().news().json(question.parameter("find"), desks().nowMs()));
    } else if (question.is(HttpMethod.GET, "/api/nodes")) {
      forOwner(question, () -> desks().office().nodes());
    } else if (question.is(HttpMethod.GET, "/api/events")) {
      forOwner(question, () -> desks().office().events(number(question, "after")));
    } else if (question.is(HttpMethod.GET, "/api/rules")) {
      forOwner(question, () -> desks().office().rules());
    } else if (question.is(HttpMethod.GET, "/api/journal")) {
      ofOwner(question, () -> journal(question));
    } else if (question.is(HttpMethod.GET, "/api/reload")) {
      forOwner(question, () -> CompletableFuture.completedFuture(desks().office().reload()));
    } else if (question.request().method().equals(HttpMethod.POST)) {
      answerPost(question);
    } else {
      noSuchPage(question);
    }
  }

  private void answerPost(Question question) {
    if (question.is(HttpMethod.POST, "/api/enter")) {
      enter(question);
    } else if (question.is(HttpMethod.POST, "/api/tell")) {
      withToken(question, session -> tell(question, session));
    } else if (question.is(HttpMethod.POST, "/api/leave")) {
      withToken(question, session -> leave(question, session));
    } else if (question.is(HttpMethod.POST, "/api/reload")) {
      withToken(question, session -> reload(question, session));
    } else if (question.is(HttpMethod.POST, "/api/territory")) {
      withToken(question, session -> move(question, session));
    } else {
      noSuchPage(question);
    }
  }

  private void forOwner(Question question, Supplier<CompletableFuture<String>> answer) {
    ofOwner(question, () -> when(answer.get(), question, json -> ok(question, json)));
  }

  private void ofOwner(Question question, Runnable answer) {
    if (session(question).role() == Role.OWNER) {
      answer.run();
    } else {
      refuse(
          question.context(),
          Reason.NOT_ALLOWED,
          HttpResponseStatus.FORBIDDEN,
          "that is for the owner to see");
    }
  }

  private void journal(Question question) {
    when(
        desks().office().journal(question.parameters()),
        question,
        sheet -> Answers.sheet(question.context(), sheet));
  }

  /** A number that is asked with; none counts as 0. */
  private static long number(Question question, String name) {
    String written = question.parameter(name);
    return written.isEmpty() ? 0 : Long.parseLong(written);
  }

  private void why(Question question) {
    String name = question.parameter("name");
    when(
        desks().office().whyIs(name),
        question,
        found ->
            found.ifPresentOrElse(
                why -> ok(question, desks().json().why(desks().nowMs(), why)),
                () ->
                    Answers.json(
                        question.context(),
                        HttpResponseStatus.NOT_FOUND,
                        ApiJson.text(desks().nowMs(), "there is nothing named '" + name + "'"))));
  }

  private void notes(Question question) {
    desks()
        .notes(question.parameter("place"))
        .ifPresentOrElse(
            html -> ok(question, ApiJson.html(desks().nowMs(), html)), () -> noSuchPage(question));
  }

  private void listen(Question question) {
    if (!question.request().headers().containsValue(UPGRADE, "websocket", true)) {
      refuse(
          question.context(),
          Reason.MALFORMED,
          HttpResponseStatus.UPGRADE_REQUIRED,
          "open this as a web socket (RFC 6455)");
    } else if (desks().feed().full()) {
      refuse(
          question.context(),
          Reason.TOO_MANY_PAGES,
          HttpResponseStatus.SERVICE_UNAVAILABLE,
          "%d pages are open already; close some".formatted(LiveFeed.PAGES_MAX));
    } else {
      handshake(question);
    }
  }

  private void handshake(Question question) {
    WebSocketServerHandshaker handshaker =
        new WebSocketServerHandshakerFactory("", null, false, MESSAGE_MAX)
            .newHandshaker(question.request());
    if (handshaker == null) {
      var unused =
          WebSocketServerHandshakerFactory.sendUnsupportedVersionResponse(
              question.context().channel());
      return;
    }
    Optional<LiveFeed.Heard> after = after(question);
    question.context().pipeline().replace(this, "live", new LiveHandler(handshaker));
    var unused =
        handshaker
            .handshake(question.context().channel(), question.request())
            .addListener(done -> desks().feed().add(question.context().channel(), after));
  }

  private static Optional<LiveFeed.Heard> after(Question question) {
    String run = question.parameter("run");
    return run.isEmpty()
        ? Optional.empty()
        : Optional.of(new LiveFeed.Heard(run, number(question, "after")));
  }

  private void tell(Question question, Session session) {
    String sentence = question.body();
    Problems problems = new Problems();
    Optional<Command> command = Sentences.command(sentence, Place.inText("sentence", 1), problems);
    if (command.isEmpty()) {
      notUnderstood(question, problems);
      return;
    }
    Optional<String> whyNot = gate.whyNot(session, command.get());
    if (whyNot.isPresent()) {
      desks().refusals().count(Reason.NOT_ALLOWED);
      Answers.json(
          question.context(),
          HttpResponseStatus.FORBIDDEN,
          desks().json().answer(desks().nowMs(), "not allowed", whyNot.get()));
      return;
    }
    when(
        desks().office().carryOut(command.get(), sentence, session.name()),
        question,
        reply ->
            Answers.json(
                question.context(),
                HttpResponseStatus.valueOf(reply.kind().status()),
                desks().json().answer(desks().nowMs(), reply)));
  }

  private void notUnderstood(Question question, Problems problems) {
    Problem first = problems.sorted().get(0);
    Answers.json(
        question.context(),
        HttpResponseStatus.BAD_REQUEST,
        desks()
            .json()
            .answer(desks().nowMs(), new Reply(Reply.Kind.NOT_UNDERSTOOD, first.toString())));
  }

  private void enter(Question question) {
    Map<String, List<String>> form =
        new QueryStringDecoder(question.body(), StandardCharsets.UTF_8, false).parameters();
    String address = Desks.addressOf(question.context().channel());
    when(
        gate.enter(address, form),
        question,
        entered -> {
          entered.refused().ifPresent(desks().refusals()::count);
          Answers.json(
              question.context(),
              HttpResponseStatus.valueOf(entered.status()),
              entered
                  .session()
                  .map(session -> ApiJson.me(desks().nowMs(), session))
                  .orElseGet(() -> ApiJson.text(desks().nowMs(), entered.words())),
              entered.session().map(Gate::cookie));
        });
  }

  private void leave(Question question, Session session) {
    gate.leave(session);
    Answers.json(
        question.context(),
        HttpResponseStatus.OK,
        ApiJson.me(desks().nowMs(), Session.NOBODY),
        Optional.of(Gate.noCookie()));
  }

  private void reload(Question question, Session session) {
    if (session.role() != Role.OWNER) {
      desks().refusals().count(Reason.NOT_ALLOWED);
      Answers.json(
          question.context(),
          HttpResponseStatus.FORBIDDEN,
          desks().json().answer(desks().nowMs(), "not allowed", "that is for the owner to say"));
      return;
    }
    Reply reply = desks().office().reload(question.body());
    Answers.json(
        question.context(),
        HttpResponseStatus.valueOf(reply.kind().status()),
        desks().json().answer(desks().nowMs(), reply));
  }

  /** Gives a territory back, or takes one that is free: a hand-over is one after the other. */
  private void move(Question question, Session session) {
    Gate.Entered moved = gate.move(session, question.body().strip());
    Answers.json(
        question.context(),
        HttpResponseStatus.valueOf(moved.status()),
        moved
            .session()
            .map(now -> ApiJson.me(desks().nowMs(), now))
            .orElseGet(() -> ApiJson.text(desks().nowMs(), moved.words())));
  }

  private Session session(Question question) {
    return gate.session(Guard.key(question.request()));
  }

  private void withToken(Question question, Consumer<Session> then) {
    Session session = session(question);
    if (session.isNobody()) {
      desks().refusals().count(Reason.NOT_ALLOWED);
      Answers.json(
          question.context(),
          HttpResponseStatus.UNAUTHORIZED,
          desks().json().answer(desks().nowMs(), "not allowed", "enter with a PIN first"));
    } else if (!Guard.carriesToken(question.request(), session)) {
      desks().refusals().count(Reason.NO_TOKEN);
      Answers.json(
          question.context(),
          HttpResponseStatus.FORBIDDEN,
          desks()
              .json()
              .answer(
                  desks().nowMs(),
                  "not allowed",
                  "the token of your session is missing: send it as " + Guard.TOKEN_HEADER));
    } else {
      then.accept(session);
    }
  }

  private static void ok(Question question, String json) {
    Answers.json(question.context(), HttpResponseStatus.OK, json);
  }

  /** Answers on the loop of this connection, when the answer is there. */
  private <T> void when(CompletableFuture<T> coming, Question question, Consumer<T> then) {
    var unused =
        coming.whenCompleteAsync(
            (answer, failure) -> {
              if (failure == null) {
                then.accept(answer);
              } else {
                LOG.warn("A question of a page failed", failure);
                Answers.json(
                    question.context(),
                    HttpResponseStatus.SERVICE_UNAVAILABLE,
                    ApiJson.text(desks().nowMs(), "the daemon cannot answer now; try again"));
              }
            },
            question.context().executor());
  }

  private void refuse(
      ChannelHandlerContext context, Reason reason, HttpResponseStatus status, String words) {
    desks().refusals().count(reason);
    Answers.json(context, status, ApiJson.text(desks().nowMs(), words));
  }

  @Override
  public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
    LOG.debug("A browser is gone", cause);
    var unused = context.close();
  }
}
