package tappet.bridge.adapter;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.channel.Channel;
import io.netty.channel.ChannelFuture;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tappet.bridge.hub.Access;
import tappet.bridge.hub.Hub;

/**
 * Lets TCP clients join the hub, usually with text frames (TCP-TN (draft) §4.1). Whoever can reach
 * the port can move switches, so the usual address is this machine's own only.
 */
public final class TcpServer implements Closeable {

  /** The port in common use for text frames (TCP-TN (draft) §4.1). */
  public static final int PORT = 12021;

  /**
   * At one address. Many more than a railroad has, so that one that calls again and again and never
   * leaves fills neither the memory nor the table of open files.
   */
  static final int CLIENTS_MAX = 64;

  private static final Logger LOG = LoggerFactory.getLogger(TcpServer.class);

  private final Hub hub;
  private final TcpForm form;
  private final Access access;
  private final Set<TcpPeer> clients = new LinkedHashSet<>();
  private Channel listening;

  private TcpServer(Hub hub, TcpForm form, Access access) {
    this.hub = hub;
    this.form = form;
    this.access = access;
  }

  /** Where the server listens unless the owner says otherwise: 127.0.0.1, port {@value #PORT}. */
  public static InetSocketAddress usualAddress() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), PORT);
  }

  /** As {@link #open(Hub, InetSocketAddress, Access)}, for clients that may speak. */
  public static TcpServer open(Hub hub, InetSocketAddress at) throws IOException {
    return open(hub, at, Access.FULL);
  }

  /**
   * Listens at this address; port 0 takes any free one. Blocks until it does, so not to be called
   * on the hub's event loop. A hub may have several servers, such as one for the signal desk and
   * one that only lets visitors listen.
   *
   * @param access what all clients of this address may do
   * @throws IOException if the address is taken or not of this machine
   */
  public static TcpServer open(Hub hub, InetSocketAddress at, Access access) throws IOException {
    return open(hub, at, TcpForm.TEXT, access);
  }

  /** As {@link #open(Hub, InetSocketAddress, Access)}, for clients that speak in this form. */
  public static TcpServer open(Hub hub, InetSocketAddress at, TcpForm form, Access access)
      throws IOException {
    TcpServer server = new TcpServer(hub, form, access);
    server.listen(at);
    return server;
  }

  private void listen(InetSocketAddress at) throws IOException {
    ChannelFuture bound = bootstrap().bind(at).awaitUninterruptibly();
    if (!bound.isSuccess()) {
      throw new IOException(
          "cannot listen on %s for TCP clients: %s"
              .formatted(AddressText.of(at), bound.cause().getMessage()),
          bound.cause());
    }
    listening = bound.channel();
    LOG.info(
        "Listening for {} clients{} on {}",
        form.words(),
        access == Access.FULL ? "" : " that may only listen",
        AddressText.of(address()));
  }

  private ServerBootstrap bootstrap() {
    return new ServerBootstrap()
        .group(hub.loop())
        .channel(NioServerSocketChannel.class)
        .option(ChannelOption.SO_REUSEADDR, true)
        .childOption(ChannelOption.TCP_NODELAY, true)
        .childOption(ChannelOption.WRITE_BUFFER_WATER_MARK, ChannelLine.WATER_MARK)
        .childHandler(new Doorman());
  }

  /** Where the server listens, with the port really taken. */
  public InetSocketAddress address() {
    return (InetSocketAddress) listening.localAddress();
  }

  /** Takes no more clients and closes all there are; does not wait for it. */
  @Override
  public void close() {
    hub.onLoop(this::end);
  }

  private void end() {
    var unused = listening.close();
    List.copyOf(clients).forEach(TcpPeer::close);
  }

  private final class Doorman extends ChannelInitializer<SocketChannel> {
    @Override
    protected void initChannel(SocketChannel channel) {
      if (clients.size() < CLIENTS_MAX) {
        welcome(channel);
      } else {
        turnAway(channel);
      }
    }

    private void welcome(SocketChannel channel) {
      KeepAlive.on(channel);
      TcpPeer client = TcpPeer.welcome(hub, channel, form, access);
      clients.add(client);
      var unused = channel.closeFuture().addListener(closed -> clients.remove(client));
    }

    private void turnAway(SocketChannel channel) {
      LOG.warn(
          "{} was turned away: {} have joined at {}",
          AddressText.of(channel.remoteAddress()),
          CLIENTS_MAX,
          AddressText.of(address()));
      var unused = channel.close();
    }
  }
}
