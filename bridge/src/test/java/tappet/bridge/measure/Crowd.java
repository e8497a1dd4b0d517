package tappet.bridge.measure;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.locks.LockSupport;
import org.HdrHistogram.Histogram;
import tappet.lcc.FrameTextReader;

/** One client that speaks and some that listen, with plain sockets and a thread each. */
final class Crowd implements Closeable {

  private static final long PATIENCE_NS = TimeUnit.SECONDS.toNanos(60);
  private static final long LATENCY_MAX_NS = 10_000_000_000L;

  private final List<Listener> listeners = new ArrayList<>();
  private final Socket speaker;

  private Crowd(Socket speaker) {
    this.speaker = speaker;
  }

  /** All have joined, and are heard by the relay, when this returns. */
  static Crowd join(InetSocketAddress relay, int listeners) throws IOException, TimeoutException {
    Crowd crowd = new Crowd(connect(relay));
    for (int index = 0; index < listeners; index++) {
      Listener listener = new Listener(connect(relay));
      crowd.listeners.add(listener);
      listener.start();
    }
    crowd.awaitAllJoined();
    return crowd;
  }

  private static Socket connect(InetSocketAddress relay) throws IOException {
    Socket socket = new Socket(relay.getAddress(), relay.getPort());
    socket.setTcpNoDelay(true);
    return socket;
  }

  /** Speaks until each listener has heard something, and all of it. */
  private void awaitAllJoined() throws IOException, TimeoutException {
    byte[] frame = ":X195B4573N;".getBytes(StandardCharsets.US_ASCII);
    long endNs = System.nanoTime() + PATIENCE_NS;
    while (slowest() == 0) {
      say(frame, frame.length);
      pause(endNs);
    }
    long before = -1;
    while (before != total()) {
      before = total();
      LockSupport.parkNanos(50_000_000);
    }
  }

  void say(byte[] bytes, int length) throws IOException {
    speaker.getOutputStream().write(bytes, 0, length);
  }

  /** Bytes heard so far by the listener that heard least. */
  long slowest() {
    long least = Long.MAX_VALUE;
    for (Listener listener : listeners) {
      least = Math.min(least, listener.bytes);
    }
    return least;
  }

  private long total() {
    return listeners.stream().mapToLong(listener -> listener.bytes).sum();
  }

  void awaitSlowest(long bytes) throws TimeoutException {
    long endNs = System.nanoTime() + PATIENCE_NS;
    while (slowest() < bytes) {
      pause(endNs);
    }
  }

  private static void pause(long endNs) throws TimeoutException {
    if (System.nanoTime() - endNs > 0) {
      throw new TimeoutException("a listener does not get what was said");
    }
    LockSupport.parkNanos(20_000);
  }

  void startTiming() {
    listeners.forEach(Listener::startTiming);
  }

  void endTiming(Histogram all) {
    listeners.forEach(listener -> listener.endTiming(all));
  }

  @Override
  public void close() throws IOException {
    speaker.close();
    for (Listener listener : listeners) {
      listener.socket.close();
    }
  }

  /** Counts bytes; while timing, reads the frames, whose data tell when they were said. */
  private static final class Listener extends Thread {
    private final Socket socket;
    private final FrameTextReader reader = new FrameTextReader();
    private volatile long bytes;
    private volatile Histogram timing;

    Listener(Socket socket) {
      super("listener");
      this.socket = socket;
      setDaemon(true);
    }

    @Override
    public void run() {
      byte[] piece = new byte[64 * 1024];
      long heard = 0;
      try (InputStream in = socket.getInputStream()) {
        for (int length = in.read(piece); length >= 0; length = in.read(piece)) {
          Histogram histogram = timing;
          if (histogram != null) {
            time(piece, length, histogram);
          }
          heard += length;
          bytes = heard;
        }
      } catch (IOException e) {
        // The measure is over.
      }
    }

    private void time(byte[] piece, int length, Histogram histogram) {
      long nowNs = System.nanoTime();
      reader.feed(
          piece, 0, length, frame -> histogram.recordValue(Math.max(0, nowNs - frame.dataValue())));
    }

    void startTiming() {
      timing = new Histogram(LATENCY_MAX_NS, 3);
    }

    void endTiming(Histogram all) {
      all.add(timing);
      timing = null;
    }
  }
}
