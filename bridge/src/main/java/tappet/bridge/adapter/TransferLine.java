package tappet.bridge.adapter;

import io.netty.buffer.ByteBuf;
import io.netty.buffer.Unpooled;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.util.concurrent.ScheduledFuture;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.adapter.transfer.Gateway;
import tappet.bridge.adapter.transfer.Hop;
import tappet.bridge.adapter.transfer.NetworkMessage;
import tappet.bridge.adapter.transfer.PartJoiner;
import tappet.bridge.adapter.transfer.Transfer;
import tappet.bridge.adapter.transfer.TransferReader;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;

/**
 * Binary messages over one TCP channel, from its opening to its end, and the nodes behind it. Lives
 * on the hub's event loop. <b>Draft</b>: TCP-S (draft), Preliminary, 2021-04-30.
 *
 * <p>The form has no start marks: a peer that begins with what makes no sense, or says much of it,
 * speaks something else and is dropped.
 */
final class TransferLine extends ChannelLine {

  /** What makes no sense is skipped by its length so often, if something else made sense. */
  static final int MALFORMED_MAX = 16;

  private static final Logger LOG = LoggerFactory.getLogger(TransferLine.class);

  private final Hub hub;
  private final Connection owner;
  private final NodeId self;
  private final Channel channel;
  private final TrafficCount traffic;
  private final TransferReader reader = new TransferReader();
  private final PartJoiner parts = new PartJoiner();
  private final Gateway gateway = new Gateway(new Sides());

  private final List<CanFrame> forSegment = new ArrayList<>();

  private ScheduledFuture<?> wake;

  /**
   * @param owner the connection in whose name frames are heard
   * @param self the node id by which this gateway marks what it puts on the link
   * @param watcher told of the channel's opening and end
   */
  TransferLine(
      Hub hub,
      Connection owner,
      NodeId self,
      Channel channel,
      TrafficCount traffic,
      LineWatcher watcher) {
    super(channel, watcher);
    this.hub = hub;
    this.owner = owner;
    this.self = self;
    this.channel = channel;
    this.traffic = traffic;
  }

  @Override
  public void channelRead(ChannelHandlerContext context, Object message) {
    ByteBuf bytes = (ByteBuf) message;
    try {
      byte[] piece = new byte[bytes.readableBytes()];
      bytes.readBytes(piece);
      hear(piece);
    } finally {
      bytes.release();
    }
  }

  private void hear(byte[] piece) {
    if (hasEnded()) {
      return;
    }
    long malformed = reader.malformed();
    reader.feed(piece, 0, piece.length, this::hear);
    traffic.malformed.add(reader.malformed() - malformed);
    boolean speaksSomethingElse = reader.malformed() > 0 && reader.transfersRead() == 0;
    if (speaksSomethingElse || reader.malformed() > MALFORMED_MAX) {
      breakOff("was dropped: it does not speak the binary form of messages");
    }
    deliver();
    flush();
    wakeInTime();
  }

  /** What this gateway itself has put on some link comes back in a ring only (TCP-S §6). */
  private void hear(Transfer transfer) {
    boolean isOurOwn = transfer.hops().stream().anyMatch(hop -> hop.node().equals(self));
    if (!isOurOwn) {
      long nowNs = System.nanoTime();
      parts.join(transfer, nowNs).ifPresent(whole -> gateway.messageHeard(whole.message(), nowNs));
    }
  }

  @Override
  public void send(CanFrame frame) {
    if (!hasEnded()) {
      gateway.frameHeard(frame, System.nanoTime());
      deliver();
      wakeInTime();
    }
  }

  /** Only now: whoever answers at once must find the gateway at rest. */
  private void deliver() {
    while (!forSegment.isEmpty()) {
      List<CanFrame> frames = List.copyOf(forSegment);
      forSegment.clear();
      hub.framesFrom(owner, frames);
    }
  }

  @Override
  public void flush() {
    flushChannel();
  }

  private void wakeInTime() {
    if (wake != null) {
      wake.cancel(false);
    }
    OptionalLong deadline = hasEnded() ? OptionalLong.empty() : gateway.deadlineNs();
    deadline.ifPresent(
        atNs ->
            wake =
                hub.loop().schedule(this::advance, atNs - System.nanoTime(), TimeUnit.NANOSECONDS));
  }

  private void advance() {
    if (!hasEnded()) {
      gateway.advance(System.nanoTime());
      deliver();
      flush();
      wakeInTime();
    }
  }

  /** The far nodes leave the segment too. */
  @Override
  void leave() {
    gateway.end();
    deliver();
  }

  @Override
  void sumUp() {
    if (gateway.dropped() > 0) {
      LOG.info("{}: {} messages could not cross", owner.name(), gateway.dropped());
    }
  }

  private final class Sides implements Gateway.Sides {

    @Override
    public void toSegment(CanFrame frame) {
      traffic.framesIn.add(1);
      forSegment.add(frame);
    }

    @Override
    public void toLink(NetworkMessage message) {
      traffic.framesOut.add(1);
      long nowMs = TimeUnit.NANOSECONDS.toMillis(System.nanoTime()) & Hop.TIME_MAX;
      byte[] bytes = Transfer.of(new Hop(self, nowMs), message).encode();
      var unused = channel.write(Unpooled.wrappedBuffer(bytes), channel.voidPromise());
    }
  }
}
