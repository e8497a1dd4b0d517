package tappet.bridge.web;

import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_TYPE;
import static io.netty.handler.codec.http.HttpHeaderNames.HOST;
import static io.netty.handler.codec.http.HttpHeaderNames.ORIGIN;
import static io.netty.handler.codec.http.HttpHeaderNames.TRANSFER_ENCODING;

import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.SimpleChannelInboundHandler;
import io.netty.handler.codec.http.DefaultHttpResponse;
import io.netty.handler.codec.http.FullHttpRequest;
import io.netty.handler.codec.http.HttpHeaderValues;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.HttpVersion;
import io.netty.handler.codec.http.QueryStringDecoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Pattern;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** One client of the desk. */
final class DeskHandler extends SimpleChannelInboundHandler<FullHttpRequest> {

  private static final Logger LOG = LoggerFactory.getLogger(DeskHandler.class);
  private static final Pattern ADDRESS =
      Pattern.compile("(localhost|[0-9.]+|\\[[0-9a-fA-F:]+])(:\\d+)?");

  private final Clerk clerk;
  private final Watchers watchers;

  DeskHandler(Clerk clerk, Watchers watchers) {
    this.clerk = clerk;
    this.watchers = watchers;
  }

  @Override
  protected void channelRead0(ChannelHandlerContext context, FullHttpRequest request) {
    try {
      answer(context, request, new QueryStringDecoder(request.uri()));
    } catch (IllegalArgumentException e) {
      reply(
          context, HttpResponseStatus.BAD_REQUEST, "this is no question: " + e.getMessage() + "\n");
    }
  }

  private void answer(
      ChannelHandlerContext context, FullHttpRequest request, QueryStringDecoder target) {
    if (request.decoderResult().isFailure()) {
      reply(context, HttpResponseStatus.BAD_REQUEST, "this is no HTTP\n");
    } else if (comesFromAPage(request)) {
      reply(context, HttpResponseStatus.FORBIDDEN, "pages of other sites may not ask here\n");
    } else if (isRequest(request, target, HttpMethod.POST, "/tell")) {
      answer(context, clerk.tell(request.content().toString(StandardCharsets.UTF_8)));
    } else if (isRequest(request, target, HttpMethod.GET, "/why")) {
      answer(context, clerk.why(parameter(target, "name")));
    } else if (isRequest(request, target, HttpMethod.POST, "/reload")) {
      answer(
          context,
          CompletableFuture.completedFuture(
              clerk.reload(request.content().toString(StandardCharsets.UTF_8))));
    } else if (isRequest(request, target, HttpMethod.GET, "/reload")) {
      reply(context, HttpResponseStatus.OK, clerk.reloadText());
    } else if (isRequest(request, target, HttpMethod.GET, "/watch")) {
      watch(context);
    } else {
      reply(
          context,
          HttpResponseStatus.NOT_FOUND,
          "the desk knows POST /tell, GET /why?name=…, GET /watch, and POST and GET /reload\n");
    }
  }

  /**
   * A browser sends an origin with what a foreign page asks, and a foreign name as the host when
   * that name was made to point here.
   */
  private static boolean comesFromAPage(FullHttpRequest request) {
    String host = request.headers().get(HOST, "");
    return request.headers().contains(ORIGIN) || !ADDRESS.matcher(host).matches();
  }

  private static boolean isRequest(
      FullHttpRequest request, QueryStringDecoder target, HttpMethod method, String path) {
    return request.method().equals(method) && target.path().equals(path);
  }

  private static String parameter(QueryStringDecoder target, String name) {
    return target.parameters().getOrDefault(name, List.of("")).get(0);
  }

  private static void answer(ChannelHandlerContext context, CompletableFuture<Reply> reply) {
    var unused =
        reply.whenComplete(
            (done, failure) -> {
              if (failure == null) {
                reply(context, HttpResponseStatus.valueOf(done.kind().status()), done.text());
              } else {
                LOG.warn("A question at the desk failed", failure);
                reply(
                    context,
                    HttpResponseStatus.SERVICE_UNAVAILABLE,
                    "the daemon cannot answer now: " + failure.getMessage() + "\n");
              }
            });
  }

  private static void reply(ChannelHandlerContext context, HttpResponseStatus status, String text) {
    HttpAnswer.send(context, status, HttpAnswer.TEXT, text);
  }

  private void watch(ChannelHandlerContext context) {
    var response = new DefaultHttpResponse(HttpVersion.HTTP_1_1, HttpResponseStatus.OK);
    response
        .headers()
        .set(CONTENT_TYPE, HttpAnswer.TEXT)
        .set(TRANSFER_ENCODING, HttpHeaderValues.CHUNKED);
    var unused = context.writeAndFlush(response);
    var unusedAdded =
        clerk
            .alarms()
            .whenComplete(
                (alarms, failure) -> {
                  if (failure == null) {
                    watchers.add(context.channel(), alarms);
                  } else {
                    hangUp(context, failure);
                  }
                });
  }

  /** A watcher that sees nothing must not take it for quiet. */
  private static void hangUp(ChannelHandlerContext context, Throwable failure) {
    LOG.warn("A question at the desk failed", failure);
    var unused = context.close();
  }

  @Override
  public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
    LOG.debug("A client of the desk is gone", cause);
    var unused = context.close();
  }
}
