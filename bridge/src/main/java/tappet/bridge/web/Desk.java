package tappet.bridge.web;

import io.netty.channel.EventLoop;
import io.netty.handler.codec.http.HttpObjectAggregator;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.List;

/**
 * The desk: an HTTP server for the command line.
 *
 * <ul>
 *   <li>{@code POST /tell}, a sentence in the body
 *   <li>{@code GET /why?name=t2e}
 *   <li>{@code POST /reload}, {@code try}, {@code apply}, {@code wait 60} or {@code cancel} in the
 *       body, and {@code GET /reload} to hear how it goes
 *   <li>{@code GET /watch}, a stream of lines that goes on until the client leaves
 * </ul>
 */
public final class Desk implements Closeable {

  /** The port it listens on unless the owner says otherwise. */
  public static final int PORT = 12080;

  private static final int BODY_MAX = 4_096;

  private final HttpListener listener;

  private Desk(HttpListener listener) {
    this.listener = listener;
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
    return new Desk(
        HttpListener.open(
            loop,
            at,
            "the command line",
            () -> List.of(new HttpObjectAggregator(BODY_MAX), new DeskHandler(clerk, watchers))));
  }

  /** Where the desk listens, with the port really taken. */
  public InetSocketAddress address() {
    return listener.address();
  }

  @Override
  public void close() {
    listener.close();
  }
}
