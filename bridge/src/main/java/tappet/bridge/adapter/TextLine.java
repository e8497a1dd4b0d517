package tappet.bridge.adapter;

import io.netty.buffer.ByteBuf;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.WriteBufferWaterMark;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;

/**
 * Text frames over one TCP channel, from its opening to its end. Lives on the hub's event loop.
 *
 * <p>Frames sent gather in one buffer until the hub flushes: a batch is one write. A peer that does
 * not read is dropped when {@value #BACKLOG_BYTES_MAX} bytes wait for it.
 */
final class TextLine extends ChannelInboundHandlerAdapter {

  /** Some 18,000 frames: more than a CAN segment carries in ten seconds. */
  static final int BACKLOG_BYTES_MAX = 512 * 1024;

  static final WriteBufferWaterMark WATER_MARK =
      new WriteBufferWaterMark(BACKLOG_BYTES_MAX, BACKLOG_BYTES_MAX);

  private static final int PIECE_BYTES = 16 * 1024;
  private static final int BATCH_BYTES = 1024;

  private final Hub hub;
  private final Connection owner;
  private final Channel channel;
  private final TrafficCount traffic;
  private final FrameIntake intake;
  private final LineWatcher watcher;

  private final byte[] piece = new byte[PIECE_BYTES];
  private final byte[] text = new byte[FrameText.TEXT_LENGTH_MAX];
  private ByteBuf batch;
  private String whyEnded;
  private boolean isBroken;

  /**
   * @param owner the connection in whose name frames are heard
   * @param watcher told of the channel's opening and end
   */
  TextLine(Hub hub, Connection owner, Channel channel, TrafficCount traffic, LineWatcher watcher) {
    this.hub = hub;
    this.owner = owner;
    this.channel = channel;
    this.traffic = traffic;
    this.intake = new FrameIntake(owner.name(), traffic);
    this.watcher = watcher;
  }

  @Override
  public void channelActive(ChannelHandlerContext context) {
    watcher.lineUp();
  }

  @Override
  public void channelRead(ChannelHandlerContext context, Object message) {
    ByteBuf bytes = (ByteBuf) message;
    try {
      while (bytes.isReadable()) {
        hear(bytes);
      }
    } finally {
      bytes.release();
    }
  }

  private void hear(ByteBuf bytes) {
    int length = Math.min(bytes.readableBytes(), piece.length);
    bytes.readBytes(piece, 0, length);
    hub.framesFrom(owner, intake.feed(piece, 0, length));
  }

  void send(CanFrame frame) {
    if (whyEnded != null) {
      return;
    }
    if (batch == null) {
      batch = channel.alloc().buffer(BATCH_BYTES);
    }
    batch.writeBytes(text, 0, FrameText.write(frame, text, 0));
    traffic.framesOut.increment();
  }

  void flush() {
    if (batch == null) {
      return;
    }
    ByteBuf full = batch;
    batch = null;
    var unused = channel.writeAndFlush(full, channel.voidPromise());
    if (!channel.isWritable()) {
      breakOff(
          "was dropped: it does not read, and more than %d KiB wait for it"
              .formatted(BACKLOG_BYTES_MAX / 1024));
    }
  }

  @Override
  public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
    breakOff("broke off: " + cause.getMessage());
  }

  private void breakOff(String why) {
    if (whyEnded == null) {
      isBroken = true;
      end(why);
    }
  }

  void close() {
    if (whyEnded == null) {
      end("was closed");
    }
  }

  private void end(String why) {
    whyEnded = why;
    var unused = channel.close();
  }

  @Override
  public void channelInactive(ChannelHandlerContext context) {
    if (whyEnded == null) {
      whyEnded = "has left";
    }
    if (batch != null) {
      batch.release();
      batch = null;
    }
    intake.end();
    tellEnd();
  }

  private void tellEnd() {
    if (isBroken) {
      watcher.lineDown(whyEnded);
    } else {
      watcher.lineLeft(whyEnded);
    }
  }
}
