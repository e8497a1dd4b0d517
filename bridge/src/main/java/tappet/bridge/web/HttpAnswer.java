package tappet.bridge.web;

import static io.netty.handler.codec.http.HttpHeaderNames.CONNECTION;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_LENGTH;
import static io.netty.handler.codec.http.HttpHeaderNames.CONTENT_TYPE;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.Unpooled;
import io.netty.channel.ChannelFutureListener;
import io.netty.channel.ChannelHandlerContext;
import io.netty.handler.codec.http.DefaultFullHttpResponse;
import io.netty.handler.codec.http.FullHttpResponse;
import io.netty.handler.codec.http.HttpHeaderValues;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.HttpVersion;
import java.nio.charset.StandardCharsets;

/**
 * An answer over HTTP, the last on its connection: it can then never be taken for that of another
 * question. It says so itself (RFC 9112, 9.6).
 */
public final class HttpAnswer {

  public static final String TEXT = "text/plain; charset=utf-8";
  public static final String JSON = "application/json; charset=utf-8";

  private HttpAnswer() {}

  /** An answer to which headers may be added before it is sent. */
  public static FullHttpResponse of(HttpResponseStatus status, String type, ByteBuf body) {
    var answer = new DefaultFullHttpResponse(HttpVersion.HTTP_1_1, status, body);
    answer
        .headers()
        .set(CONTENT_TYPE, type)
        .setInt(CONTENT_LENGTH, body.readableBytes())
        .set(CONNECTION, HttpHeaderValues.CLOSE);
    return answer;
  }

  /** Sends an answer, and closes the connection behind it. */
  public static void send(ChannelHandlerContext context, FullHttpResponse answer) {
    var unused = context.writeAndFlush(answer).addListener(ChannelFutureListener.CLOSE);
  }

  /** Sends text in UTF-8. */
  public static void send(
      ChannelHandlerContext context, HttpResponseStatus status, String type, String text) {
    send(context, of(status, type, Unpooled.copiedBuffer(text, StandardCharsets.UTF_8)));
  }
}
