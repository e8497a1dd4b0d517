package tappet.bridge.web;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import io.netty.channel.Channel;
import io.netty.channel.ChannelHandler;
import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.ChannelInboundHandlerAdapter;
import io.netty.channel.ChannelOption;
import io.netty.channel.MultiThreadIoEventLoopGroup;
import io.netty.channel.nio.NioIoHandler;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.slf4j.LoggerFactory;

/** What becomes of connections that nobody needs, over plain sockets. */
class HttpListenerTest {

  private static final Duration PATIENCE = Duration.ofSeconds(30);
  private static final int MOST = 4;

  private final MultiThreadIoEventLoopGroup loops =
      new MultiThreadIoEventLoopGroup(1, NioIoHandler.newFactory());
  private final Logger log = (Logger) LoggerFactory.getLogger(OpenConnections.class);
  private final ListAppender<ILoggingEvent> told = new ListAppender<>();
  private final BlockingQueue<Channel> opened = new LinkedBlockingQueue<>();
  private HttpListener listener;

  @BeforeEach
  void open() throws IOException {
    told.start();
    log.addAppender(told);
    listener =
        HttpListener.open(
            loops.next(),
            new InetSocketAddress(InetAddress.getLoopbackAddress(), 0),
            "the test",
            () -> List.<ChannelHandler>of(new Arrival()),
            MOST);
  }

  @AfterEach
  void close() {
    listener.close();
    loops.shutdownGracefully(0, 2, TimeUnit.SECONDS).awaitUninterruptibly();
    log.detachAppender(told);
  }

  /** Notes a connection that is let in. */
  private final class Arrival extends ChannelInboundHandlerAdapter {
    @Override
    public void channelActive(ChannelHandlerContext context) {
      opened.add(context.channel());
    }
  }

  private Socket connect() throws IOException {
    Socket socket = new Socket(listener.address().getAddress(), listener.address().getPort());
    socket.setSoTimeout((int) PATIENCE.toMillis());
    return socket;
  }

  private Channel admitted() throws InterruptedException {
    Channel channel = opened.poll(PATIENCE.toSeconds(), TimeUnit.SECONDS);
    assertTrue(channel != null, "nobody was let in");
    return channel;
  }

  private void assertTurnedAway() throws IOException {
    try (Socket oneTooMany = connect()) {
      assertEquals(-1, oneTooMany.getInputStream().read());
    }
  }

  @Test
  void everyConnectionIsLimitedAndAskedForLife() throws Exception {
    try (Socket socket = connect()) {
      Channel channel = admitted();
      assertTrue(channel.config().getOption(ChannelOption.SO_KEEPALIVE));
      assertTrue(channel.pipeline().get(RequestLimit.class) != null);
      assertTrue(socket.isConnected());
    }
  }

  @Test
  void whatIsOneTooManyIsClosedAndToldOnce() throws Exception {
    Socket[] sockets = new Socket[MOST];
    for (int socket = 0; socket < MOST; socket++) {
      sockets[socket] = connect();
    }
    Channel[] channels = new Channel[MOST];
    for (int channel = 0; channel < MOST; channel++) {
      channels[channel] = admitted();
    }
    assertTurnedAway();
    assertTurnedAway();
    assertEquals(
        List.of("4 connections for the test are open; more are closed at once"),
        told.list.stream().map(ILoggingEvent::getFormattedMessage).toList());

    sockets[0].close();
    assertTrue(channels[0].closeFuture().await(PATIENCE.toMillis()));
    try (Socket another = connect()) {
      assertTrue(admitted().isOpen());
      assertTurnedAway();
      assertTrue(another.isConnected());
    }
    assertEquals(1, told.list.size());
    for (Socket socket : sockets) {
      socket.close();
    }
  }
}
