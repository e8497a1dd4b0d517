package tappet.bridge.adapter.discovery;

import java.util.List;

/**
 * A hub that announces itself in the local network.
 *
 * @param name what its owner calls it
 * @param service what it speaks
 * @param addresses where it is, IPv4 first; at least one
 * @param port 1 to 65535
 */
public record FoundHub(String name, HubService service, List<String> addresses, int port) {

  public FoundHub {
    addresses = List.copyOf(addresses);
  }
}
