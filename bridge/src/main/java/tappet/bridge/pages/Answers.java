package tappet.bridge.pages;

import static io.netty.handler.codec.http.HttpHeaderNames.CACHE_CONTROL;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_DISPOSITION;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_LENGTH;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_SECURITY_POLICY;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_TYPE;
import static io.netty.handler.codec.http.HttpHeaderNames.SET_COOKIE;

import io.netty.buffer.ByteBuf;
import io.netty.channel.ChannelFutureListener;
import io.netty.channel.ChannelHandlerContext;
import io.netty.handler.codec.http.DefaultFullHttpResponse;
import io.netty.handler.codec.http.HttpHeaderNames;
import io.netty.handler.codec.http.HttpHeaderValues;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.HttpVersion;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import tappet.bridge.journal.JournalSearch;

/** Sends answers, each with the headers that keep a browser from doing anything but show them. */
final class Answers {

  private static final String JSON = "application/json; charset=utf-8";
  private static final String POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;"
          + " connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none';"
          + " frame-ancestors 'none'";

  private Answers() {}

  static void json(ChannelHandlerContext context, HttpResponseStatus status, String text) {
    json(context, status, text, Optional.empty());
  }

  /** With a cookie that the browser is to keep. */
  static void json(
      ChannelHandlerContext context,
      HttpResponseStatus status,
      String text,
      Optional<String> cookie) {
    send(
        context,
        status,
        new StaticFiles.Content(JSON, text.getBytes(StandardCharsets.UTF_8)),
        cookie);
  }

  static void file(ChannelHandlerContext context, StaticFiles.Content content) {
    send(context, HttpResponseStatus.OK, content, Optional.empty());
  }

  /** What was found in the journal. */
  static void sheet(ChannelHandlerContext context, JournalSearch.Sheet sheet) {
    send(
        context,
        HttpResponseStatus.valueOf(sheet.status()),
        new StaticFiles.Content(sheet.type(), sheet.text().getBytes(StandardCharsets.UTF_8)),
        Optional.empty(),
        sheet.file().isEmpty()
            ? Optional.empty()
            : Optional.of("attachment; filename=\"" + sheet.file() + '"'));
  }

  private static void send(
      ChannelHandlerContext context,
      HttpResponseStatus status,
      StaticFiles.Content content,
      Optional<String> cookie) {
    send(context, status, content, cookie, Optional.empty());
  }

  /** Closes after each answer: answers can then never be taken for those of other questions. */
  private static void send(
      ChannelHandlerContext context,
      HttpResponseStatus status,
      StaticFiles.Content content,
      Optional<String> cookie,
      Optional<String> disposition) {
    ByteBuf body = content.buffer();
    var response = new DefaultFullHttpResponse(HttpVersion.HTTP_1_1, status, body);
    response
        .headers()
        .set(CONTENT_TYPE, content.type())
        .setInt(CONTENT_LENGTH, body.readableBytes())
        .set(CACHE_CONTROL, "no-cache")
        .set(CONTENT_SECURITY_POLICY, POLICY)
        .set("X-Content-Type-Options", "nosniff")
        .set("Referrer-Policy", "no-referrer")
        .set("Cross-Origin-Resource-Policy", "same-origin")
        .set(HttpHeaderNames.CONNECTION, HttpHeaderValues.CLOSE);
    disposition.ifPresent(text -> response.headers().set(CONTENT_DISPOSITION, text));
    cookie.ifPresent(text -> response.headers().set(SET_COOKIE, text));
    var unused = context.writeAndFlush(response).addListener(ChannelFutureListener.CLOSE);
  }
}
