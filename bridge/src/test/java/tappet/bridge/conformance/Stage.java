package tappet.bridge.conformance;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import tappet.bridge.JavaProcess;

/** A hub that stands ready before the device under test starts, so that it hears all it says. */
final class Stage implements AutoCloseable {

  private final ServerSocket server;

  Stage() throws IOException {
    server = new ServerSocket(0, 2, InetAddress.getLoopbackAddress());
    server.setSoTimeout((int) JavaProcess.PATIENCE.toMillis());
  }

  int port() {
    return server.getLocalPort();
  }

  /** Waits for a device to join; the tester has no alias yet. */
  Tester await() throws IOException {
    return new Tester(server.accept());
  }

  @Override
  public void close() {
    try {
      server.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
