package tappet.bridge.web;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.channel.Channel;
import io.netty.channel.ChannelFuture;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.EventLoop;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import io.netty.handler.codec.http.HttpObjectAggregator;
import io.netty.handler.codec.http.HttpServerCodec;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;

/**
 * The desk: an HTTP server for the command line.
 *
 * <ul>
 *   <li>{@code POST /tell}, a sentence in the body
 *   <li>{@code GET /why?name=t2e}
 *   <li>{@code GET /watch}, a stream of lines that goes on until the client leaves
 * </ul>
 */
public final class Desk implements Closeable {

  /** The port it listens on unless the owner says otherwise. */
  public static final int PORT = 12080;

  private static final int BODY_MAX = 4_096;

  private final Clerk clerk;
  private final Watchers watchers;
  private Channel listening;

  private Desk(Clerk clerk, Watchers watchers) {
    this.clerk = clerk;
    this.watchers = watchers;
  }

  /** Where the desk is unless the owner says otherwise: 127.0.0.1, port {@value #PORT}. */
  public static InetSocketAddress usualAddress() {
    return new InetSocketAddress(InetAddress.getLoopbackAddress(), PORT);
  }

  /**
   * Listens at this address; port 0 takes any free one. Not to be called on the loop.
   *
   * @throws IOException if the address is taken or not of this machine
   */
  public static Desk open(EventLoop loop, InetSocketAddress at, Clerk clerk, Watchers watchers)
      throws IOException {
    Desk desk = new Desk(clerk, watchers);
    ChannelFuture bound = desk.bootstrap(loop).bind(at).awaitUninterruptibly();
    if (!bound.isSuccess()) {
      throw new IOException(
          "cannot listen on %s:%d for the command line: %s"
              .formatted(at.getHostString(), at.getPort(), bound.cause().getMessage()),
          bound.cause());
    }
    desk.listening = bound.channel();
    return desk;
  }

  /** Where the desk listens, with the port really taken. */
  public InetSocketAddress address() {
    return (InetSocketAddress) listening.localAddress();
  }

  @Override
  public void close() {
    var unused = listening.close();
  }

  private ServerBootstrap bootstrap(EventLoop loop) {
    return new ServerBootstrap()
        .group(loop)
        .channel(NioServerSocketChannel.class)
        .option(ChannelOption.SO_REUSEADDR, true)
        .childHandler(
            new ChannelInitializer<SocketChannel>() {
              @Override
              protected void initChannel(SocketChannel channel) {
                channel
                    .pipeline()
                    .addLast(new HttpServerCodec())
                    .addLast(new HttpObjectAggregator(BODY_MAX))
                    .addLast(new DeskHandler(clerk, watchers));
              }
            });
  }
}
