package tappet.bridge.adapter;

import io.netty.channel.socket.SocketChannel;
import io.netty.channel.socket.SocketChannelConfig;
import io.netty.channel.socket.nio.NioChannelOption;
import java.net.SocketOption;
import java.util.Map;
import jdk.net.ExtendedSocketOptions;

/**
 * Has the system ask a silent TCP peer whether it is still there, so that one whose cable was
 * pulled or whose power failed is given up some eleven seconds later, and not after two hours. What
 * came by it is known no longer than that.
 *
 * <p>Linux asks only while nothing that was sent waits to be acknowledged. As long as something
 * does, it repeats that instead, for some fifteen minutes unless {@code net.ipv4.tcp_retries2} says
 * otherwise, and Java has no way to bound it for one socket. Boards that the layout names are given
 * up sooner, since they leave the box's questions unanswered.
 */
final class KeepAlive {

  /** In seconds; a system that does not know one of them asks in its own time. */
  static final Map<SocketOption<Integer>, Integer> TIMES =
      Map.of(
          ExtendedSocketOptions.TCP_KEEPIDLE, 5,
          ExtendedSocketOptions.TCP_KEEPINTERVAL, 2,
          ExtendedSocketOptions.TCP_KEEPCOUNT, 3);

  private KeepAlive() {}

  static void on(SocketChannel channel) {
    SocketChannelConfig config = channel.config();
    config.setKeepAlive(true);
    TIMES.forEach(
        (option, value) -> {
          boolean unused = config.setOption(NioChannelOption.of(option), value);
        });
  }
}
