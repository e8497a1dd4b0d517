package tappet.bridge.node;

import tappet.lcc.AliasSeed;
import tappet.lcc.NodeId;

/**
 * What the daemon's node remembers while it is off.
 *
 * @param userName what a tool has named the node, at most 62 bytes
 * @param userDescription what a tool has written about it, at most 63 bytes
 * @param aliasSeed where it stood in its row of aliases
 * @param eventsGiven how many event ids of its own it may have given away, 0 or more: what is kept
 *     runs ahead of what is given, so that none is given again after a crash
 */
public record KeptState(
    String userName, String userDescription, AliasSeed aliasSeed, int eventsGiven) {

  /** What a node that was never on remembers. */
  public static KeptState ofNew(NodeId node) {
    return new KeptState("", "", AliasSeed.of(node), 0);
  }

  KeptState withUser(String name, String description) {
    return new KeptState(name, description, aliasSeed, eventsGiven);
  }

  KeptState withAliasSeed(AliasSeed seed) {
    return new KeptState(userName, userDescription, seed, eventsGiven);
  }

  KeptState withEventsGiven(int count) {
    return new KeptState(userName, userDescription, aliasSeed, count);
  }
}
