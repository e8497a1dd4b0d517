package tappet.bridge.soak;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/**
 * A TCP connection to the hub, whose every frame must have the form that TN-9.7.4.4 §4 shows: what
 * has not is a fault. Frames are heard on a thread of its own.
 */
abstract class FrameStream implements AutoCloseable {

  private static final int FAULTS_MAX = 20;
  private static final int HEADER_FROM = 2;
  private static final int KIND_AT = 10;
  private static final int DATA_FROM = 11;
  private static final int DATA_DIGITS_MAX = 16;

  private final Socket socket;
  private final List<String> faults = new CopyOnWriteArrayList<>();
  private final StringBuilder begun = new StringBuilder();
  private volatile boolean hungUp;

  FrameStream(InetSocketAddress hub) throws IOException {
    socket = new Socket(hub.getAddress(), hub.getPort());
  }

  /** Begins to hear. */
  final void listen() {
    Thread reader = new Thread(this::read, getClass().getSimpleName());
    reader.setDaemon(true);
    reader.start();
  }

  /** Takes a frame, on the reader's thread: eight digits of header, and the digits of the data. */
  abstract void heard(String header, String data);

  final void send(CharSequence text) {
    try {
      socket.getOutputStream().write(text.toString().getBytes(StandardCharsets.ISO_8859_1));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void read() {
    byte[] piece = new byte[64 * 1024];
    try (InputStream in = socket.getInputStream()) {
      for (int length = in.read(piece); length >= 0; length = in.read(piece)) {
        take(piece, length);
      }
    } catch (IOException e) {
      // The test, or the daemon, has closed the socket.
    }
    hungUp = true;
  }

  private void take(byte[] bytes, int length) {
    for (int index = 0; index < length; index++) {
      begun.append((char) (bytes[index] & 0xFF));
      if (bytes[index] == ';') {
        take(begun.toString());
        begun.setLength(0);
      }
    }
  }

  private void take(String frame) {
    if (isWellFormed(frame)) {
      heard(frame.substring(HEADER_FROM, KIND_AT), frame.substring(DATA_FROM, frame.length() - 1));
    } else {
      fault("no frame: " + frame);
    }
  }

  private static boolean isWellFormed(String frame) {
    int digits = frame.length() - DATA_FROM - 1;
    return frame.startsWith(":X")
        && digits >= 0
        && digits <= DATA_DIGITS_MAX
        && digits % 2 == 0
        && frame.charAt(KIND_AT) == 'N'
        && areDigits(frame, HEADER_FROM, KIND_AT)
        && areDigits(frame, DATA_FROM, frame.length() - 1);
  }

  private static boolean areDigits(String text, int from, int to) {
    for (int index = from; index < to; index++) {
      char symbol = text.charAt(index);
      if ((symbol < '0' || symbol > '9') && (symbol < 'A' || symbol > 'F')) {
        return false;
      }
    }
    return true;
  }

  final void fault(String what) {
    if (faults.size() < FAULTS_MAX) {
      faults.add(what);
    }
  }

  /** The first things that were wrong with what was heard. */
  final List<String> faults() {
    return List.copyOf(faults);
  }

  final boolean hungUp() {
    return hungUp;
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
