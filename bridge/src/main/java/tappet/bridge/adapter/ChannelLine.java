package tappet.bridge.adapter;

import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.WriteBufferWaterMark;

/**
 * What the lines of all forms have in common: each ends once, in good order or not, and says why. A
 * peer that does not read is dropped when {@value #BACKLOG_BYTES_MAX} bytes wait for it.
 */
abstract class ChannelLine extends ChannelInboundHandlerAdapter implements Line {

  /** Some 18,000 frames: more than a CAN segment carries in ten seconds. */
  static final int BACKLOG_BYTES_MAX = 512 * 1024;

  static final WriteBufferWaterMark WATER_MARK =
      new WriteBufferWaterMark(BACKLOG_BYTES_MAX, BACKLOG_BYTES_MAX);

  private final Channel channel;
  private final LineWatcher watcher;
  private String whyEnded;
  private boolean isBroken;

  /**
   * @param watcher told of the channel's opening and end
   */
  ChannelLine(Channel channel, LineWatcher watcher) {
    this.channel = channel;
    this.watcher = watcher;
  }

  final boolean hasEnded() {
    return whyEnded != null;
  }

  @Override
  public final void channelActive(ChannelHandlerContext context) {
    watcher.lineUp();
  }

  /** Lets go what has been written. */
  final void flushChannel() {
    channel.flush();
    if (!channel.isWritable()) {
      breakOff(
          "was dropped: it does not read, and more than %d KiB wait for it"
              .formatted(BACKLOG_BYTES_MAX / 1024));
    }
  }

  @Override
  public final void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
    breakOff("broke off: " + cause.getMessage());
  }

  @Override
  public final void breakOff(String why) {
    if (!hasEnded()) {
      isBroken = true;
      end(why);
    }
  }

  @Override
  public final void close() {
    if (!hasEnded()) {
      end("was closed");
    }
  }

  private void end(String why) {
    try {
      leave();
    } finally {
      whyEnded = why;
      var unused = channel.close();
    }
  }

  @Override
  public final void channelInactive(ChannelHandlerContext context) {
    if (!hasEnded()) {
      end("has left");
    }
    sumUp();
    if (isBroken) {
      watcher.lineDown(whyEnded);
    } else {
      watcher.lineLeft(whyEnded);
    }
  }

  /** The line is about to end; its owner may still speak to the hub. */
  void leave() {}

  /** Nothing comes or goes any more. */
  abstract void sumUp();
}
