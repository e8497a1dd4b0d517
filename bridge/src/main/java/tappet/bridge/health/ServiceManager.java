package tappet.bridge.health;

import io.netty.bootstrap.Bootstrap;
import io.netty.buffer.Unpooled;
import io.netty.channel.Channel;
import io.netty.channel.ChannelFuture;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.EventLoopGroup;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.epoll.Epoll;
import io.netty.channel.epoll.EpollDomainDatagramChannel;
import io.netty.channel.epoll.EpollIoHandler;
import io.netty.channel.unix.DomainSocketAddress;
import java.io.Closeable;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Tells systemd how the daemon fares, by the datagrams of sd_notify(3). Where no service manager
 * has started the daemon it says nothing, and nothing of this is loaded.
 */
public final class ServiceManager implements Closeable {

  /** The variable that names the socket (sd_notify(3)). */
  public static final String SOCKET = "NOTIFY_SOCKET";

  private static final Logger LOG = LoggerFactory.getLogger(ServiceManager.class);
  private static final long PATIENCE_MS = 500;

  private final EventLoopGroup loop;
  private final Channel socket;

  private ServiceManager(EventLoopGroup loop, Channel socket) {
    this.loop = loop;
    this.socket = socket;
  }

  /**
   * Opens the way to the service manager.
   *
   * @param address a path, or {@code @} and a name without one (unix(7)); null where nobody listens
   * @return empty where nobody listens, or cannot be reached, which is logged
   */
  public static Optional<ServiceManager> open(String address) {
    if (address == null || address.isEmpty()) {
      return Optional.empty();
    }
    if (!Epoll.isAvailable()) {
      LOG.warn("systemd cannot be told anything: {}", Epoll.unavailabilityCause().toString());
      return Optional.empty();
    }
    return connect(address);
  }

  private static Optional<ServiceManager> connect(String address) {
    EventLoopGroup loop = new MultiThreadIoEventLoopGroup(1, EpollIoHandler.newFactory());
    ChannelFuture connected =
        new Bootstrap()
            .group(loop)
            .channel(EpollDomainDatagramChannel.class)
            .handler(new ChannelInboundHandlerAdapter())
            .connect(new DomainSocketAddress(path(address)))
            .awaitUninterruptibly();
    if (connected.isSuccess()) {
      return Optional.of(new ServiceManager(loop, connected.channel()));
    }
    LOG.warn("systemd cannot be told anything at {}: {}", address, connected.cause().toString());
    var unused = loop.shutdownGracefully(0, 0, TimeUnit.SECONDS);
    return Optional.empty();
  }

  /** A name that is no path begins with a null byte (unix(7)). */
  private static String path(String address) {
    return address.startsWith("@") ? "\0" + address.substring(1) : address;
  }

  /** The daemon has started; {@code words} say what it does. */
  public void ready(String words) {
    var unused = send("READY=1\nSTATUS=" + words);
  }

  /** The daemon is alive, for as long again as the unit's {@code WatchdogSec} says. */
  public void alive() {
    var unused = send("WATCHDOG=1");
  }

  /** The daemon ends, in order. */
  public void stopping() {
    boolean unused =
        send("STOPPING=1\nSTATUS=puts every signal to Stop").awaitUninterruptibly(PATIENCE_MS);
  }

  private ChannelFuture send(String text) {
    return socket.writeAndFlush(Unpooled.copiedBuffer(text, StandardCharsets.UTF_8));
  }

  @Override
  public void close() {
    var unused = loop.shutdownGracefully(0, 1, TimeUnit.SECONDS);
  }
}
