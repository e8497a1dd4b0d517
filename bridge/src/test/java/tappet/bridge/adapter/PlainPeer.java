package tappet.bridge.adapter;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import tappet.lcc.CanFrame;
import tappet.lcc.FrameText;
import tappet.lcc.FrameTextReader;

/** A TCP peer with a plain blocking socket; waits at most half a minute for what it expects. */
final class PlainPeer implements AutoCloseable {

  private static final int PATIENCE_MS = 30_000;

  private final Socket socket;
  private final FrameTextReader reader = new FrameTextReader();
  private final ArrayDeque<CanFrame> unread = new ArrayDeque<>();
  private final byte[] piece = new byte[8192];

  PlainPeer(Socket socket) throws IOException {
    this.socket = socket;
    socket.setSoTimeout(PATIENCE_MS);
  }

  static PlainPeer connect(InetSocketAddress address) {
    try {
      return new PlainPeer(new Socket(address.getAddress(), address.getPort()));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The name the server gives this client. */
  String name() {
    return "TCP client 127.0.0.1:" + socket.getLocalPort();
  }

  int port() {
    return socket.getLocalPort();
  }

  void say(CanFrame frame) {
    say(FrameText.encode(frame));
  }

  void say(String text) {
    say(text.getBytes(StandardCharsets.ISO_8859_1), 0, text.length());
  }

  void say(byte[] bytes, int offset, int length) {
    try {
      socket.getOutputStream().write(bytes, offset, length);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** All frames up to this one, which is taken but not returned. */
  List<CanFrame> hearUntil(CanFrame last) {
    List<CanFrame> heard = new ArrayList<>();
    for (CanFrame frame = hear(); !frame.equals(last); frame = hear()) {
      heard.add(frame);
    }
    return heard;
  }

  /** The next frame. */
  CanFrame hear() {
    while (unread.isEmpty()) {
      int length = read();
      if (length < 0) {
        throw new AssertionError("the other side hung up");
      }
      reader.feed(piece, 0, length, unread::add);
    }
    return unread.remove();
  }

  /** Waits for the other side to hang up. */
  void hearEnd() {
    while (read() >= 0) {
      // What still comes is of no interest.
    }
  }

  /** Waits for the other side to hang up, which must not have said anything before. */
  void hearNothing() {
    int length = read();
    if (length >= 0) {
      String heard = new String(piece, 0, length, StandardCharsets.ISO_8859_1);
      throw new AssertionError("the other side said " + heard);
    }
  }

  private int read() {
    try {
      return socket.getInputStream().read(piece);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Breaks the connection without a farewell (TCP reset). */
  void kill() {
    try {
      socket.setSoLinger(true, 0);
      socket.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Override
  public void close() {
    try {
      socket.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
