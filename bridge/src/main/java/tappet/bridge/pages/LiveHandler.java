package tappet.bridge.pages;

import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.SimpleChannelInboundHandler;
import io.netty.handler.codec.http.websocketx.CloseWebSocketFrame;
import io.netty.handler.codec.http.websocketx.PingWebSocketFrame;
import io.netty.handler.codec.http.websocketx.PongWebSocketFrame;
import io.netty.handler.codec.http.websocketx.WebSocketFrame;
import io.netty.handler.codec.http.websocketx.WebSocketServerHandshaker;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** One page that listens. What it says besides the protocol's own frames is of no meaning. */
final class LiveHandler extends SimpleChannelInboundHandler<WebSocketFrame> {

  private static final Logger LOG = LoggerFactory.getLogger(LiveHandler.class);

  private final WebSocketServerHandshaker handshaker;

  LiveHandler(WebSocketServerHandshaker handshaker) {
    this.handshaker = handshaker;
  }

  @Override
  protected void channelRead0(ChannelHandlerContext context, WebSocketFrame frame) {
    if (frame instanceof CloseWebSocketFrame close) {
      var unused = handshaker.close(context.channel(), close.retain());
    } else if (frame instanceof PingWebSocketFrame ping) {
      var unused = context.writeAndFlush(new PongWebSocketFrame(ping.content().retain()));
    }
  }

  @Override
  public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
    LOG.debug("A page is gone", cause);
    var unused = context.close();
  }
}
