package tappet.bridge.web;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.netty.buffer.Unpooled;
import io.netty.channel.embedded.EmbeddedChannel;
import io.netty.handler.codec.http.HttpServerCodec;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** How long somebody may take to ask, on a clock of the test's own. */
class RequestLimitTest {

  private static final Duration MOMENT = Duration.ofSeconds(1);

  private final EmbeddedChannel channel = new EmbeddedChannel();

  @BeforeEach
  void freezeTime() {
    channel.freezeTime();
    channel.pipeline().addLast(new HttpServerCodec(), new RequestLimit());
  }

  private void pass(Duration time) {
    channel.advanceTimeBy(time.toNanos(), TimeUnit.NANOSECONDS);
    channel.runScheduledPendingTasks();
  }

  private void send(String bytes) {
    channel.writeInbound(Unpooled.copiedBuffer(bytes, StandardCharsets.US_ASCII));
  }

  @Test
  void whoSendsNothingIsHungUpOn() {
    pass(RequestLimit.WITHIN.minus(MOMENT));
    assertTrue(channel.isOpen());
    pass(MOMENT);
    assertFalse(channel.isOpen());
  }

  @Test
  void whoSendsBitByBitIsHungUpOn() {
    send("GET / HTTP/1.1\r\n");
    for (int line = 1; line <= RequestLimit.WITHIN.toSeconds(); line++) {
      assertTrue(channel.isOpen());
      send("X: y\r\n");
      pass(MOMENT);
    }
    assertFalse(channel.isOpen());
  }

  @Test
  void bodyThatDoesNotComeIsNotWaitedFor() {
    send("POST /tell HTTP/1.1\r\nContent-Length: 4\r\n\r\nlin");
    pass(RequestLimit.WITHIN);
    assertFalse(channel.isOpen());
  }

  /** A page that listens, and a watcher at the desk, say nothing more for hours. */
  @Test
  void whoHasAskedIsNeverHungUpOn() {
    pass(RequestLimit.WITHIN.minus(MOMENT));
    send("GET /watch HTTP/1.1\r\nHost: localhost\r\n\r\n");
    pass(RequestLimit.WITHIN.multipliedBy(1_000));
    assertTrue(channel.isOpen());
    assertFalse(channel.inboundMessages().isEmpty());
  }
}
