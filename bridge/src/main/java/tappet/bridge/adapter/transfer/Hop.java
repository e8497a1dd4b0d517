package tappet.bridge.adapter.transfer;

import tappet.lcc.NodeId;

/**
 * Who put a message on a TCP link, and when (TCP-S (draft) §4). A gateway that passes a message on
 * puts a hop of its own in front.
 *
 * @param node the node or gateway; need not be the message's source
 * @param timeMs milliseconds since some arbitrary start, or a count: 48 bits, never going back
 */
public record Hop(NodeId node, long timeMs) {

  /** The largest time. */
  public static final long TIME_MAX = 0xFFFF_FFFF_FFFFL;

  public Hop {
    if (timeMs < 0 || timeMs > TIME_MAX) {
      throw new IllegalArgumentException("time " + timeMs + " ms, expected 48 bits");
    }
  }
}
