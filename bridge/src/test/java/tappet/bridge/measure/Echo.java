package tappet.bridge.measure;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;

/** The baseline of reaction: sends back what comes in, and does nothing else. */
final class Echo {

  private Echo() {}

  public static void main(String[] arguments) throws IOException {
    try (ServerSocket server = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      System.out.println("echo at port " + server.getLocalPort());
      try (Socket peer = server.accept()) {
        peer.setTcpNoDelay(true);
        byte[] bytes = new byte[16 * 1024];
        for (int length = 0; length >= 0; length = peer.getInputStream().read(bytes)) {
          peer.getOutputStream().write(bytes, 0, length);
        }
      }
    }
  }
}
