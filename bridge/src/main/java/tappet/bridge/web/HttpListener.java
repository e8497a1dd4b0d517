package tappet.bridge.web;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.channel.Channel;
import io.netty.channel.ChannelFuture;
import io.netty.channel.ChannelHandler;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.EventLoop;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import io.netty.handler.codec.http.HttpServerCodec;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.List;
import java.util.function.Supplier;

/**
 * A port at which HTTP is heard (RFC 9112). A connection that is gone without a word, sends no
 * request, or is one too many is closed: each holds memory and a file of the daemon's.
 */
public final class HttpListener implements Closeable {

  private final Channel listening;

  private HttpListener(Channel listening) {
    this.listening = listening;
  }

  /**
   * Listens at this address; port 0 takes any free one. Not to be called on the loop.
   *
   * @param whom who asks there, as it is told where that cannot be
   * @param handlers makes what takes the requests of one connection
   * @throws IOException if the address is taken or not of this machine
   */
  public static HttpListener open(
      EventLoop loop, InetSocketAddress at, String whom, Supplier<List<ChannelHandler>> handlers)
      throws IOException {
    return open(loop, at, whom, handlers, OpenConnections.MAX);
  }

  /** The same with another bound of what is open at once. */
  static HttpListener open(
      EventLoop loop,
      InetSocketAddress at,
      String whom,
      Supplier<List<ChannelHandler>> handlers,
      int most)
      throws IOException {
    OpenConnections connections = new OpenConnections(whom, most);
    ChannelFuture bound = bootstrap(loop, connections, handlers).bind(at).awaitUninterruptibly();
    if (!bound.isSuccess()) {
      throw new IOException(
          "cannot listen on %s:%d for %s: %s"
              .formatted(at.getHostString(), at.getPort(), whom, bound.cause().getMessage()),
          bound.cause());
    }
    return new HttpListener(bound.channel());
  }

  /** Where it listens, with the port really taken. */
  public InetSocketAddress address() {
    return (InetSocketAddress) listening.localAddress();
  }

  @Override
  public void close() {
    var unused = listening.close();
  }

  private static ServerBootstrap bootstrap(
      EventLoop loop, OpenConnections connections, Supplier<List<ChannelHandler>> handlers) {
    return new ServerBootstrap()
        .group(loop)
        .channel(NioServerSocketChannel.class)
        .option(ChannelOption.SO_REUSEADDR, true)
        .childOption(ChannelOption.SO_KEEPALIVE, true)
        .childHandler(
            new ChannelInitializer<SocketChannel>() {
              @Override
              protected void initChannel(SocketChannel channel) {
                if (connections.admit(channel)) {
                  channel.pipeline().addLast(new HttpServerCodec(), new RequestLimit());
                  handlers.get().forEach(channel.pipeline()::addLast);
                } else {
                  var unused = channel.close();
                }
              }
            });
  }
}
