package tappet.bridge.measure;

import java.io.IOException;
import java.io.OutputStream;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.FrameTextReader;

/** One end of a TCP connection that carries text frames; they are heard on a thread of its own. */
final class Line implements AutoCloseable {

  private static final int LOOK_UP_MS = 20;

  /** Hears frames, on the line's thread. */
  interface Listener {
    /** A frame has come in; its bytes were there at {@code nowNs}. */
    void heard(CanFrame frame, long nowNs);

    /** Nothing may have come in for a while. */
    default void idle(long nowNs) {}
  }

  private final Socket socket;
  private final OutputStream output;
  private final byte[] text = new byte[FrameText.TEXT_LENGTH_MAX];

  private Line(Socket socket) throws IOException {
    this.socket = socket;
    socket.setTcpNoDelay(true);
    socket.setSoTimeout(LOOK_UP_MS);
    output = socket.getOutputStream();
  }

  static Line to(InetSocketAddress address) throws IOException {
    return new Line(new Socket(address.getAddress(), address.getPort()));
  }

  /** Begins to hear. */
  void listen(Listener listener) {
    Thread thread = new Thread(() -> read(listener), "line");
    thread.setDaemon(true);
    thread.start();
  }

  private void read(Listener listener) {
    FrameTextReader reader = new FrameTextReader();
    byte[] bytes = new byte[16 * 1024];
    try {
      while (true) {
        int length = receive(bytes);
        long nowNs = System.nanoTime();
        if (length < 0) {
          return;
        }
        reader.feed(bytes, 0, length, frame -> listener.heard(frame, nowNs));
        listener.idle(nowNs);
      }
    } catch (IOException e) {
      // closed: nothing more to hear
    }
  }

  private int receive(byte[] bytes) throws IOException {
    try {
      return socket.getInputStream().read(bytes);
    } catch (SocketTimeoutException e) {
      return 0;
    }
  }

  /** Sends one frame at once; from any thread. */
  synchronized void send(CanFrame frame) {
    try {
      output.write(text, 0, FrameText.write(frame, text, 0));
    } catch (IOException e) {
      throw new IllegalStateException("the line broke", e);
    }
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
