package tappet.bridge.pages;

import static io.netty.handler.codec.http.HttpHeaderNames.UPGRADE;

import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.SimpleChannelInboundHandler;
import io.netty.handler.codec.TooLongFrameException;
import io.netty.handler.codec.http.FullHttpRequest;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.websocketx.WebSocketServerHandshaker;
import io.netty.handler.codec.http.websocketx.WebSocketServerHandshakerFactory;
import java.time.Duration;
import java.util.Optional;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.pages.Refusals.Reason;
import tappet.bridge.web.Health;

/**
 * One connection of a browser, or of another program that uses the interface. What it asks to see
 * is answered here, what it asks to be done by {@link Doings}.
 */
final class PageHandler extends SimpleChannelInboundHandler<FullHttpRequest> {

  private static final Logger LOG = LoggerFactory.getLogger(PageHandler.class);
  private static final int MESSAGE_MAX = 1_024;
  private static final String API = "/api/";

  /** A month of a busy journal is searched on a slow disk. */
  private static final Duration SEARCH_PATIENCE = Duration.ofMinutes(1);

  private final Supplier<Desks> shared;
  private final Gate gate;
  private final Doings doings;

  /**
   * @param shared what all connections share, which may become another
   */
  PageHandler(Supplier<Desks> shared, Gate gate) {
    this.shared = shared;
    this.gate = gate;
    this.doings = new Doings(gate);
  }

  @Override
  protected void channelRead0(ChannelHandlerContext context, FullHttpRequest request) {
    try {
      if (request.decoderResult().isFailure()) {
        refuseUnread(context, request.decoderResult().cause());
      } else {
        answer(Question.of(context, request, shared.get()));
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

  private void refuse(
      ChannelHandlerContext context, Reason reason, HttpResponseStatus status, String words) {
    Desks desks = shared.get();
    desks.refusals().count(reason);
    Answers.json(context, status, ApiJson.text(desks.nowMs(), words));
  }

  private void answer(Question question) {
    if (!Guard.asksLocalHost(question.request())) {
      question.refuse(
          Reason.FOREIGN_HOST,
          HttpResponseStatus.MISDIRECTED_REQUEST,
          "this is no name of this machine; use its address, or its name in your network");
    } else if (Guard.comesFromOtherSite(question.request())) {
      question.refuse(
          Reason.FOREIGN_SITE,
          HttpResponseStatus.FORBIDDEN,
          "pages of other sites may not ask here");
    } else if (question.is(HttpMethod.GET)) {
      show(question);
    } else if (question.is(HttpMethod.POST) && question.path().startsWith(API)) {
      doings.answer(question);
    } else {
      question.noSuchPage();
    }
  }

  private void show(Question question) {
    Desks desks = question.desks();
    switch (question.path()) {
      case "/health" -> health(question);
      case "/api/plan" -> question.ok(desks.plan());
      case "/api/live" -> listen(question);
      case "/api/way" -> way(question);
      case "/api/why" -> why(question);
      case "/api/notes" -> notes(question);
      case "/api/me" -> question.ok(ApiJson.me(desks.nowMs(), gate.visitor(question)));
      case "/api/health" -> question.ok(desks.health());
      case "/api/openapi.json" -> question.ok(desks.openApi());
      case "/api/diary" ->
          question.ok(desks.records().diary().json(question.number("since"), desks.nowMs()));
      case "/api/news" ->
          question.ok(desks.records().news().json(question.parameter("find"), desks.nowMs()));
      case "/api/nodes", "/api/events", "/api/rules", "/api/journal", "/api/reload" ->
          showOwner(question);
      default -> showFile(question);
    }
  }

  private void showOwner(Question question) {
    if (gate.session(Guard.key(question.request())).role() != Role.OWNER) {
      question.refuse(
          Reason.NOT_ALLOWED, HttpResponseStatus.FORBIDDEN, "that is for the owner to see");
      return;
    }
    Office office = question.desks().office();
    switch (question.path()) {
      case "/api/nodes" -> question.when(office.nodes(), question::ok);
      case "/api/events" -> question.when(office.events(question.number("after")), question::ok);
      case "/api/rules" -> question.when(office.rules(), question::ok);
      case "/api/journal" ->
          question.when(
              office.journal(question.parameters()),
              SEARCH_PATIENCE,
              sheet -> Answers.sheet(question.context(), sheet));
      default -> question.ok(office.reload());
    }
  }

  private static void showFile(Question question) {
    question
        .desks()
        .files()
        .at(question.path())
        .ifPresentOrElse(file -> Answers.file(question.context(), file), question::noSuchPage);
  }

  /** For machines that watch machines: the status alone says whether all is well. */
  private static void health(Question question) {
    Health health = question.desks().office().health();
    question.answer(health.status(), health.json());
  }

  private static void way(Question question) {
    Desks desks = question.desks();
    question.when(
        desks.office().way(question.parameter("from"), question.parameter("to")),
        way -> question.ok(desks.json().way(desks.nowMs(), way)));
  }

  private static void why(Question question) {
    Desks desks = question.desks();
    String name = question.parameter("name");
    question.when(
        desks.office().whyIs(name),
        found ->
            found.ifPresentOrElse(
                why -> question.ok(desks.json().why(desks.nowMs(), why)),
                () ->
                    question.answer(
                        HttpResponseStatus.NOT_FOUND,
                        ApiJson.text(desks.nowMs(), "there is nothing named '" + name + "'"))));
  }

  private static void notes(Question question) {
    Desks desks = question.desks();
    desks
        .notes(question.parameter("place"))
        .ifPresentOrElse(
            html -> question.ok(ApiJson.html(desks.nowMs(), html)), question::noSuchPage);
  }

  private void listen(Question question) {
    if (!question.request().headers().containsValue(UPGRADE, "websocket", true)) {
      question.refuse(
          Reason.MALFORMED,
          HttpResponseStatus.UPGRADE_REQUIRED,
          "open this as a web socket (RFC 6455)");
    } else if (question.desks().feed().full()) {
      question.refuse(
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
    Channel channel = question.context().channel();
    if (handshaker == null) {
      var unused = WebSocketServerHandshakerFactory.sendUnsupportedVersionResponse(channel);
      return;
    }
    Optional<LiveFeed.Heard> after = after(question);
    question.context().pipeline().replace(this, "live", new LiveHandler(handshaker));
    var unused =
        handshaker
            .handshake(channel, question.request())
            .addListener(done -> question.desks().feed().add(channel, after));
  }

  private static Optional<LiveFeed.Heard> after(Question question) {
    String run = question.parameter("run");
    return run.isEmpty()
        ? Optional.empty()
        : Optional.of(new LiveFeed.Heard(run, question.number("after")));
  }

  @Override
  public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
    LOG.debug("A browser is gone", cause);
    var unused = context.close();
  }
}
