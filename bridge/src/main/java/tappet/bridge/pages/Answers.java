package tappet.bridge.pages;

import static io.netty.handler.codec.http.HttpHeaderNames.CACHE_CONTROL;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_DISPOSITION;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_SECURITY_POLICY;
import static io.netty.handler.codec.http.HttpHeaderNames.SET_COOKIE;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.Unpooled;
import io.netty.channel.ChannelHandlerContext;
import io.netty.handler.codec.http.FullHttpResponse;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.util.AttributeKey;
import java.nio.charset.StandardCharsets;
import tappet.bridge.journal.JournalSearch;
import tappet.bridge.web.HttpAnswer;

/** Sends answers, each with the headers that keep a browser from doing anything but show them. */
final class Answers {

  private static final String POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;"
          + " connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none';"
          + " frame-ancestors 'none'";

  private static final AttributeKey<String> COOKIE = AttributeKey.valueOf(Answers.class, "cookie");

  private Answers() {}

  static void json(ChannelHandlerContext context, HttpResponseStatus status, String text) {
    send(context, answer(status, HttpAnswer.JSON, buffer(text)));
  }

  /** The answer on this connection, of which there is one, has a cookie for the browser to keep. */
  static void keepCookie(ChannelHandlerContext context, String cookie) {
    context.channel().attr(COOKIE).set(cookie);
  }

  static void file(ChannelHandlerContext context, StaticFiles.Content content) {
    HttpAnswer.send(context, answer(HttpResponseStatus.OK, content.type(), content.buffer()));
  }

  /** What was found in the journal. */
  static void sheet(ChannelHandlerContext context, JournalSearch.Sheet sheet) {
    FullHttpResponse answer =
        answer(HttpResponseStatus.valueOf(sheet.status()), sheet.type(), buffer(sheet.text()));
    if (!sheet.file().isEmpty()) {
      answer.headers().set(CONTENT_DISPOSITION, "attachment; filename=\"" + sheet.file() + '"');
    }
    send(context, answer);
  }

  private static void send(ChannelHandlerContext context, FullHttpResponse answer) {
    String cookie = context.channel().attr(COOKIE).get();
    if (cookie != null) {
      answer.headers().set(SET_COOKIE, cookie);
    }
    HttpAnswer.send(context, answer);
  }

  private static ByteBuf buffer(String text) {
    return Unpooled.copiedBuffer(text, StandardCharsets.UTF_8);
  }

  private static FullHttpResponse answer(HttpResponseStatus status, String type, ByteBuf body) {
    FullHttpResponse answer = HttpAnswer.of(status, type, body);
    answer
        .headers()
        .set(CACHE_CONTROL, "no-cache")
        .set(CONTENT_SECURITY_POLICY, POLICY)
        .set("X-Content-Type-Options", "nosniff")
        .set("Referrer-Policy", "no-referrer")
        .set("Cross-Origin-Resource-Policy", "same-origin");
    return answer;
  }
}
