package tappet.bridge;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;

/** Ports of this machine. */
public final class Ports {

  private Ports() {}

  /** One that nobody listens at. */
  public static int free() throws IOException {
    try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return socket.getLocalPort();
    }
  }
}
