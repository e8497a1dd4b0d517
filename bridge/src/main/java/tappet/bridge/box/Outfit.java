package tappet.bridge.box;

import tappet.bridge.node.ClockPlan;
import tappet.bridge.node.Keeping;
import tappet.bridge.node.KeptState;
import tappet.lcc.NodeId;

/**
 * What a box is given besides its interlocking.
 *
 * @param clock what clock the layout has
 * @param node how the node remembers things while it is off
 * @param protections how the protection of people outlives the daemon
 */
public record Outfit(ClockPlan clock, Keeping node, ProtectionKeeping protections) {

  /**
   * That of a box that remembers nothing while it is off.
   *
   * @param id the daemon's own node
   */
  static Outfit forgetful(NodeId id, ClockPlan clock) {
    return new Outfit(
        clock, new Keeping("", KeptState.ofNew(id), state -> {}), ProtectionKeeping.NONE);
  }
}
