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

/** A port at which HTTP is heard (RFC 9112). */
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
    ChannelFuture bound = bootstrap(loop, handlers).bind(at).awaitUninterruptibly();
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
      EventLoop loop, Supplier<List<ChannelHandler>> handlers) {
    return new ServerBootstrap()
        .group(loop)
        .channel(NioServerSocketChannel.class)
        .option(ChannelOption.SO_REUSEADDR, true)
        .childHandler(
            new ChannelInitializer<SocketChannel>() {
              @Override
              protected void initChannel(SocketChannel channel) {
                channel.pipeline().addLast(new HttpServerCodec());
                handlers.get().forEach(channel.pipeline()::addLast);
              }
            });
  }
}
