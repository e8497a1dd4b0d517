package tappet.bridge.health;

import io.netty.channel.ChannelHandlerContext;
import io.netty.channel.EventLoop;
import io.netty.channel.SimpleChannelInboundHandler;
import io.netty.handler.codec.http.HttpMethod;
import io.netty.handler.codec.http.HttpObject;
import io.netty.handler.codec.http.HttpRequest;
import io.netty.handler.codec.http.HttpResponseStatus;
import io.netty.handler.codec.http.QueryStringDecoder;
import java.io.Closeable;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.List;
import tappet.bridge.web.Health;
import tappet.bridge.web.HttpAnswer;
import tappet.bridge.web.HttpListener;

/** Answers {@code /metrics} and {@code /health} at a port of their own. */
public final class HealthPort implements Closeable {

  private final HttpListener listener;

  private HealthPort(HttpListener listener) {
    this.listener = listener;
  }

  /**
   * Listens at this address; port 0 takes any free one. Not to be called on the loop.
   *
   * @throws IOException if the address is taken or not of this machine
   */
  public static HealthPort open(
      EventLoop loop, InetSocketAddress at, Metrics metrics, Vitals vitals) throws IOException {
    return new HealthPort(
        HttpListener.open(loop, at, "metrics", () -> List.of(new Handler(metrics, vitals))));
  }

  /** Where it listens, with the port really taken. */
  public InetSocketAddress address() {
    return listener.address();
  }

  @Override
  public void close() {
    listener.close();
  }

  /** One connection, which ends with its answer. */
  private static final class Handler extends SimpleChannelInboundHandler<HttpObject> {

    private final Metrics metrics;
    private final Vitals vitals;

    Handler(Metrics metrics, Vitals vitals) {
      this.metrics = metrics;
      this.vitals = vitals;
    }

    /** What follows the head of a request is of no interest. */
    @Override
    protected void channelRead0(ChannelHandlerContext context, HttpObject part) {
      if (part instanceof HttpRequest request) {
        answer(context, request);
      }
    }

    private void answer(ChannelHandlerContext context, HttpRequest request) {
      String path =
          request.decoderResult().isSuccess() ? new QueryStringDecoder(request.uri()).path() : "";
      boolean asks = request.method().equals(HttpMethod.GET);
      if (asks && path.equals("/metrics")) {
        HttpAnswer.send(context, HttpResponseStatus.OK, Metrics.CONTENT_TYPE, metrics.text());
      } else if (asks && path.equals("/health")) {
        Health now = vitals.now();
        HttpAnswer.send(context, now.status(), HttpAnswer.JSON, now.json());
      } else {
        HttpAnswer.send(
            context,
            HttpResponseStatus.NOT_FOUND,
            HttpAnswer.TEXT,
            "ask for /metrics or /health\n");
      }
    }

    @Override
    public void exceptionCaught(ChannelHandlerContext context, Throwable cause) {
      var unused = context.close();
    }
  }
}
