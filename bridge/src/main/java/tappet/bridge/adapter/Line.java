package tappet.bridge.adapter;

import io.netty.channel.ChannelInboundHandler;
import tappet.bridge.hub.FrameBatch;
import tappet.lcc.CanFrame;

/** What is spoken on one TCP channel, from its opening to its end; on the hub's event loop. */
interface Line extends ChannelInboundHandler {

  void send(CanFrame frame);

  default void sendAll(FrameBatch batch) {
    batch.frames().forEach(this::send);
  }

  /** The hub has no more at hand. */
  void flush();

  /**
   * Ends it as broken.
   *
   * @param why the end of a sentence that begins with the connection's name
   */
  void breakOff(String why);

  void close();
}
