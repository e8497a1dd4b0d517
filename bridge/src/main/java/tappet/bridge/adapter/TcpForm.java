package tappet.bridge.adapter;

import io.netty.channel.Channel;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.lcc.NodeId;

/** How frames or messages are written on a TCP connection. */
public final class TcpForm {

  /** Text frames (TCP-TN (draft) §4.1), the usual form. */
  public static final TcpForm TEXT = new TcpForm("TCP", TextLine::new);

  /** Makes the line of a channel. */
  private interface Maker {
    Line line(
        Hub hub, Connection owner, Channel channel, TrafficCount traffic, LineWatcher watcher);
  }

  private final String words;
  private final Maker maker;

  private TcpForm(String words, Maker maker) {
    this.words = words;
    this.maker = maker;
  }

  /**
   * Binary messages (TCP-S (draft), Preliminary, 2021-04-30): not adopted, and may change.
   *
   * @param self the node id by which this gateway marks what it puts on a link
   */
  public static TcpForm draft(NodeId self) {
    return new TcpForm(
        "TCP draft",
        (hub, owner, channel, traffic, watcher) ->
            new TransferLine(hub, owner, self, channel, traffic, watcher));
  }

  /** How the names of such connections begin. */
  String words() {
    return words;
  }

  Line line(Hub hub, Connection owner, Channel channel, TrafficCount traffic, LineWatcher watcher) {
    return maker.line(hub, owner, channel, traffic, watcher);
  }
}
