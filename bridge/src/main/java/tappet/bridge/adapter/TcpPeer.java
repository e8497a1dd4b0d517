package tappet.bridge.adapter;

import io.netty.channel.Channel;
import java.net.InetSocketAddress;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.FrameBatch;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/** A client of our TCP server; comes with its channel and goes with it. */
final class TcpPeer implements Connection, LineWatcher {

  private final Hub hub;
  private final String name;
  private final Access access;
  private final TrafficCount traffic = new TrafficCount();
  private final Line line;

  private TcpPeer(Hub hub, Channel channel, TcpForm form, Access access) {
    this.hub = hub;
    this.access = access;
    this.name =
        form.words() + kind(access) + AddressText.of((InetSocketAddress) channel.remoteAddress());
    this.line = form.line(hub, this, channel, traffic, this);
  }

  private static String kind(Access access) {
    return access == Access.FULL ? " client " : " listener ";
  }

  /** Lets the client behind a channel just accepted join the hub. */
  static TcpPeer welcome(Hub hub, Channel channel, TcpForm form, Access access) {
    TcpPeer peer = new TcpPeer(hub, channel, form, access);
    channel.pipeline().addLast(peer.line);
    return peer;
  }

  @Override
  public void lineUp() {
    hub.attach(this);
  }

  @Override
  public String name() {
    return name;
  }

  @Override
  public Access access() {
    return access;
  }

  /** Clients come and go as they like. */
  @Override
  public boolean asked() {
    return false;
  }

  /** Nodes that are not heard are none. */
  @Override
  public boolean leadsToNodes() {
    return access == Access.FULL;
  }

  @Override
  public void send(CanFrame frame) {
    line.send(frame);
  }

  @Override
  public void sendAll(FrameBatch batch) {
    line.sendAll(batch);
  }

  @Override
  public void flush() {
    line.flush();
  }

  @Override
  public void lineDown(String why) {
    hub.detach(this, why);
  }

  @Override
  public void lineLeft(String why) {
    hub.dismiss(this, why);
  }

  @Override
  public Traffic traffic() {
    return traffic.read();
  }

  @Override
  public void close() {
    hub.onLoop(line::close);
  }
}
