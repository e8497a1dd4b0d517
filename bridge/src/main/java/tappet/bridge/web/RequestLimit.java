package tappet.bridge.web;

import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.handler.codec.http.LastHttpContent;
import io.netty.util.concurrent.ScheduledFuture;
import java.time.Duration;
import java.util.concurrent.TimeUnit;

/**
 * Hangs up on whoever has not sent a whole request in time, however busily they send it bit by bit.
 * Once it is whole nothing is limited any more: what is answered may be a stream that goes on.
 */
final class RequestLimit extends ChannelInboundHandlerAdapter {

  static final Duration WITHIN = Duration.ofSeconds(30);

  private ScheduledFuture<?> hangingUp;

  @Override
  public void handlerAdded(ChannelHandlerContext context) {
    hangingUp =
        context.executor().schedule(() -> hangUp(context), WITHIN.toNanos(), TimeUnit.NANOSECONDS);
  }

  private static void hangUp(ChannelHandlerContext context) {
    var unused = context.close();
  }

  @Override
  public void channelRead(ChannelHandlerContext context, Object part) {
    if (part instanceof LastHttpContent) {
      context.pipeline().remove(this);
    }
    context.fireChannelRead(part);
  }

  @Override
  public void handlerRemoved(ChannelHandlerContext context) {
    hangingUp.cancel(false);
  }
}
