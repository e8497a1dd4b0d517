package tappet.lcc.memory;

import java.util.Optional;
import tappet.lcc.EventId;

/**
 * What the owner of a node does when a tool asks for it. Each is called after the request has been
 * answered, except {@link #nextUniqueEvent}.
 */
public interface MemoryOwner {

  /** The tool has written all it wanted (S-9.7.4.2 §4.23). The node may start again. */
  void updateComplete(long nowNs);

  /** Start again, with the configuration as it is (S-9.7.4.2 §4.24). */
  void reboot(long nowNs);

  /** Set everything back to its defaults, then start again (S-9.7.4.2 §4.25, S-9.7.3.1 §6.6). */
  void factoryReset(long nowNs);

  /**
   * An event id never given before, not even before a reset (S-9.7.4.2 §4.19); empty when all are
   * used up.
   */
  Optional<EventId> nextUniqueEvent();
}
