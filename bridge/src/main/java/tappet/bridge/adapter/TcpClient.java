package tappet.bridge.adapter;

import io.netty.bootstrap.Bootstrap;
import io.netty.channel.Channel;
import io.netty.channel.ChannelFuture;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioSocketChannel;
import io.netty.util.concurrent.Future;
import java.net.InetSocketAddress;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.Connection;
import tappet.bridge.hub.FrameBatch;
import tappet.bridge.hub.Hub;
import tappet.bridge.hub.Traffic;
import tappet.lcc.CanFrame;

/** Joins another hub as its TCP client, usually with text frames, and reconnects by itself. */
public final class TcpClient implements Connection {

  private static final int CONNECT_TIMEOUT_MS = 5_000;

  private final Hub hub;
  private final String host;
  private final int port;
  private final TcpForm form;
  private final Access access;
  private final Recovery recovery;
  private final TrafficCount traffic = new TrafficCount();

  /** The channel of the latest try; it and the line are touched on the hub's event loop only. */
  private Channel channel;

  /** Null while down. */
  private Line line;

  private TcpClient(Hub hub, String host, int port, BackOff backOff, TcpForm form, Access access) {
    this.hub = hub;
    this.host = host;
    this.port = port;
    this.form = form;
    this.access = access;
    this.recovery = new Recovery(hub, this, backOff, this::lookUp);
  }

  /** As {@link #open(Hub, String, int, BackOff, Access)}, for a hub that may speak. */
  public static TcpClient open(Hub hub, String host, int port, BackOff backOff) {
    return open(hub, host, port, backOff, Access.FULL);
  }

  /**
   * Connects, now or as soon as the other hub answers; does not wait for it.
   *
   * @param host a name or an address
   * @param port 1 to 65535
   * @param backOff how long to rest between tries
   * @param access what the other hub may do: one that is overheard is heard, and told nothing
   */
  public static TcpClient open(Hub hub, String host, int port, BackOff backOff, Access access) {
    return open(hub, host, port, backOff, TcpForm.TEXT, access);
  }

  /** As {@link #open(Hub, String, int, BackOff, Access)}, with a hub that speaks in this form. */
  public static TcpClient open(
      Hub hub, String host, int port, BackOff backOff, TcpForm form, Access access) {
    if (port < 1 || port > 0xFFFF) {
      throw new IllegalArgumentException("port " + port + ", expected 1 to 65535");
    }
    TcpClient client = new TcpClient(hub, host, port, backOff, form, access);
    hub.onLoop(client.recovery::start);
    return client;
  }

  /** Asking for a name's address may take seconds, so the hub's loop must not do it. */
  private void lookUp() {
    Threads.start("look up " + host, () -> found(new InetSocketAddress(host, port)));
  }

  private void found(InetSocketAddress address) {
    hub.onLoop(() -> connect(address));
  }

  private void connect(InetSocketAddress address) {
    if (recovery.isClosed()) {
      return;
    }
    if (address.isUnresolved()) {
      recovery.down("cannot be found: no address is known for " + host);
      return;
    }
    ChannelFuture connecting = bootstrap().connect(address);
    channel = connecting.channel();
    var unused = connecting.addListener(this::connectEnded);
  }

  private Bootstrap bootstrap() {
    return new Bootstrap()
        .group(hub.loop())
        .channel(NioSocketChannel.class)
        .option(ChannelOption.TCP_NODELAY, true)
        .option(ChannelOption.CONNECT_TIMEOUT_MILLIS, CONNECT_TIMEOUT_MS)
        .option(ChannelOption.WRITE_BUFFER_WATER_MARK, ChannelLine.WATER_MARK)
        .handler(new Setup());
  }

  /** How many tries failed since the other hub was there last; asked on the hub's event loop. */
  int triesInVain() {
    return recovery.triesInVain();
  }

  private void connectEnded(Future<? super Void> connecting) {
    if (!connecting.isSuccess()) {
      recovery.down("does not answer: " + connecting.cause().getMessage());
    }
  }

  @Override
  public String name() {
    return form.words() + " hub " + host + ":" + port;
  }

  @Override
  public Access access() {
    return access;
  }

  @Override
  public void send(CanFrame frame) {
    if (line != null) {
      line.send(frame);
    }
  }

  @Override
  public void sendAll(FrameBatch batch) {
    if (line != null) {
      line.sendAll(batch);
    }
  }

  @Override
  public void flush() {
    if (line != null) {
      line.flush();
    }
  }

  @Override
  public Traffic traffic() {
    return traffic.read();
  }

  @Override
  public void breakOff(String why) {
    if (line != null) {
      line.breakOff(why);
    }
  }

  @Override
  public void close() {
    hub.onLoop(this::end);
  }

  private void end() {
    if (line != null) {
      line.close();
    }
    recovery.close();
    if (channel != null) {
      var unused = channel.close();
    }
  }

  private final class Setup extends ChannelInitializer<SocketChannel> {
    @Override
    protected void initChannel(SocketChannel fresh) {
      KeepAlive.on(fresh);
      line = form.line(hub, TcpClient.this, fresh, traffic, new Watcher());
      fresh.pipeline().addLast(line);
    }
  }

  private final class Watcher implements LineWatcher {
    @Override
    public void lineUp() {
      recovery.up();
    }

    @Override
    public void lineDown(String why) {
      line = null;
      recovery.down(why);
    }
  }
}
