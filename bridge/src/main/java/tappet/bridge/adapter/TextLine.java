package tappet.bridge.adapter;

import io.netty.buffer.ByteBuf;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.WriteBufferWaterMark;
import java.util.List;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.FrameBatch;
import tappet.bridge.hub.Hub;
import tappet.lcc.CanFrame;

/**
 * Text frames over one TCP channel, from its opening to its end. Lives on the hub's event loop.
 *
 * <p>Frames sent gather until the hub flushes: a batch is one write, and its text is shared with
 * all other lines of the loop. A peer that does not read is dropped when {@value
 * #BACKLOG_BYTES_MAX} bytes wait for it.
 */
final class TextLine extends ChannelInboundHandlerAdapter {

  /** Some 18,000 frames: more than a CAN segment carries in ten seconds. */
  static final int BACKLOG_BYTES_MAX = 512 * 1024;

  static final WriteBufferWaterMark WATER_MARK =
      new WriteBufferWaterMark(BACKLOG_BYTES_MAX, BACKLOG_BYTES_MAX);

  private final Hub hub;
  private final Connection owner;
  private final Channel channel;
  private final TrafficCount traffic;
  private final FrameIntake intake;
  private final LineWatcher watcher;

  private SharedText shared;

  /**
   * The shared buffer with text to write, from start to end; null when nothing is to be written.
   */
  private ByteBuf batch;

  private int bufferNumber;
  private int batchStart;
  private int batchEnd;
  private int batchFrames;
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
  public void handlerAdded(ChannelHandlerContext context) {
    shared = SharedText.ofThisLoop();
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
    byte[] piece = shared.piece();
    int length = Math.min(bytes.readableBytes(), piece.length);
    bytes.readBytes(piece, 0, length);
    hub.framesFrom(owner, intake.feed(piece, 0, length));
  }

  void send(CanFrame frame) {
    sendAll(FrameBatch.of(List.of(frame)));
  }

  void sendAll(FrameBatch frames) {
    if (whyEnded != null) {
      return;
    }
    int start = shared.write(frames);
    if (batch == null || bufferNumber != shared.bufferNumber() || start != batchEnd) {
      writeBatch();
      batch = shared.buffer().retain();
      bufferNumber = shared.bufferNumber();
      batchStart = start;
    }
    batchEnd = shared.end();
    batchFrames += frames.frames().size();
  }

  private void writeBatch() {
    if (batch != null) {
      ByteBuf text = batch.slice(batchStart, batchEnd - batchStart);
      batch = null;
      var unused = channel.write(text, channel.voidPromise());
    }
  }

  void flush() {
    if (batch == null) {
      return;
    }
    writeBatch();
    traffic.framesOut.add(batchFrames);
    batchFrames = 0;
    channel.flush();
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
