package tappet.proof;

import java.util.List;
import tappet.network.Network;

/**
 * A network with all that watches it.
 *
 * @param network the network that runs, and variables that only watch
 * @param properties what must always hold of it
 * @param happenings what is likely to happen to it
 * @param assumptions what is taken to be so because nothing in the network can tell
 */
public record Watched(
    Network network, List<Property> properties, Happenings happenings, List<String> assumptions) {
  public Watched {
    properties = List.copyOf(properties);
    assumptions = List.copyOf(assumptions);
  }
}
