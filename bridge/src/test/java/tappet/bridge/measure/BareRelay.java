package tappet.bridge.measure;

import io.netty.bootstrap.ServerBootstrap;
import io.netty.buffer.ByteBuf;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.ChannelInitializer;
import io.netty.channel.ChannelOption;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.nio.NioServerSocketChannel;
import java.io.Closeable;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * The least a relay can do, on one event loop and with sockets set as the hub's: each piece of
 * bytes from one client goes to all others as it is. One copy in memory serves all.
 */
final class BareRelay implements Closeable {

  private final MultiThreadIoEventLoopGroup group =
      new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
  private final List<Channel> clients = new ArrayList<>();
  private Channel listening;

  static BareRelay open() {
    BareRelay relay = new BareRelay();
    ServerBootstrap bootstrap =
        new ServerBootstrap()
            .group(relay.group)
            .channel(NioServerSocketChannel.class)
            .childOption(ChannelOption.TCP_NODELAY, true)
            .childHandler(relay.new Doorman());
    relay.listening =
        bootstrap.bind(InetAddress.getLoopbackAddress(), 0).syncUninterruptibly().channel();
    return relay;
  }

  InetSocketAddress address() {
    return (InetSocketAddress) listening.localAddress();
  }

  @Override
  public void close() {
    group.shutdownGracefully(0, 1, TimeUnit.SECONDS).syncUninterruptibly();
  }

  private final class Doorman extends ChannelInitializer<SocketChannel> {
    @Override
    protected void initChannel(SocketChannel channel) {
      clients.add(channel);
      channel.pipeline().addLast(new Copier());
    }
  }

  private final class Copier extends ChannelInboundHandlerAdapter {
    @Override
    public void channelRead(ChannelHandlerContext context, Object message) {
      ByteBuf bytes = (ByteBuf) message;
      for (Channel client : clients) {
        if (client != context.channel()) {
          var unused = client.writeAndFlush(bytes.retainedDuplicate(), client.voidPromise());
        }
      }
      bytes.release();
    }
  }
}
