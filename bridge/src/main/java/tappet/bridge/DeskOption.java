package tappet.bridge;

import java.net.URI;
import picocli.CommandLine.Option;
import tappet.bridge.web.Desk;

/** Where a command finds the running daemon. */
final class DeskOption {

  @Option(
      names = "--desk",
      paramLabel = "HOST:PORT",
      defaultValue = "127.0.0.1:" + Desk.PORT,
      description = "where the running daemon is asked (default: ${DEFAULT-VALUE})")
  private String address;

  URI uri(String pathAndQuery) {
    return URI.create("http://" + address + pathAndQuery);
  }
}
