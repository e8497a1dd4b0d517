package tappet.bridge.adapter;

import io.netty.buffer.ByteBuf;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import java.util.List;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.FrameBatch;
import tappet.bridge.hub.Hub;
import tappet.lcc.CanFrame;

/**
 * Text frames over one TCP channel, from its opening to its end. Lives on the hub's event loop.
 *
 * <p>Frames sent gather until the hub flushes: a batch is one write, and its text is shared with
 * all other lines of the loop.
 */
final class TextLine extends ChannelLine {

  private final Hub hub;
  private final Connection owner;
  private final Channel channel;
  private final TrafficCount traffic;
  private final FrameIntake intake;

  private SharedText shared;

  /**
   * The shared buffer with text to write, from start to end; null when nothing is to be written.
   */
  private ByteBuf batch;

  private int bufferNumber;
  private int batchStart;
  private int batchEnd;
  private int batchFrames;

  /**
   * @param owner the connection in whose name frames are heard
   * @param watcher told of the channel's opening and end
   */
  TextLine(Hub hub, Connection owner, Channel channel, TrafficCount traffic, LineWatcher watcher) {
    super(channel, watcher);
    this.hub = hub;
    this.owner = owner;
    this.channel = channel;
    this.traffic = traffic;
    this.intake = new FrameIntake(owner.name(), traffic);
  }

  @Override
  public void handlerAdded(ChannelHandlerContext context) {
    shared = SharedText.ofThisLoop();
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

  @Override
  public void send(CanFrame frame) {
    sendAll(FrameBatch.of(List.of(frame)));
  }

  @Override
  public void sendAll(FrameBatch frames) {
    if (hasEnded()) {
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

  @Override
  public void flush() {
    if (batch == null) {
      return;
    }
    writeBatch();
    traffic.framesOut.add(batchFrames);
    batchFrames = 0;
    flushChannel();
  }

  @Override
  void sumUp() {
    if (batch != null) {
      batch.release();
      batch = null;
    }
    intake.end();
  }
}
