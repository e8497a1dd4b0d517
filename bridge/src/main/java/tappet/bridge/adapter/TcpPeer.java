package tappet.bridge.adapter;

import io.netty.channel.Channel;
import java.net.InetSocketAddress;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/** A client of our TCP server; comes with its channel and goes with it. */
final class TcpPeer implements Connection, LineWatcher {

  private final Hub hub;
  private final String name;
  private final TrafficCount traffic = new TrafficCount();
  private final TextLine line;

  private TcpPeer(Hub hub, Channel channel) {
    this.hub = hub;
    this.name = "TCP client " + AddressText.of((InetSocketAddress) channel.remoteAddress());
    this.line = new TextLine(hub, this, channel, traffic, this);
  }

  /** Lets the client behind a channel just accepted join the hub. */
  static void welcome(Hub hub, Channel channel) {
    channel.pipeline().addLast(new TcpPeer(hub, channel).line);
  }

  @Override
  public void lineUp() {
    hub.attach(this);
  }

  @Override
  public String name() {
    return name;
  }

  /** Clients come and go as they like. */
  @Override
  public boolean asked() {
    return false;
  }

  @Override
  public void send(CanFrame frame) {
    line.send(frame);
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
