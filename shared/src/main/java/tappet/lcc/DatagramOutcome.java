package tappet.lcc;

/**
 * How the sending of a datagram ended.
 *
 * @param code the flags of the answer if delivered, the reason if refused, otherwise 0
 */
public record DatagramOutcome(End end, int code) {

  /** The ways it can end. */
  public enum End {
    /** The other node has it. */
    DELIVERED,
    /** The other node would not have it, for good or as often as it was tried. */
    REFUSED,
    /** No answer within the time. */
    UNANSWERED,
    /** The other node, or this one, gave up its alias or started anew. */
    BROKEN_OFF
  }
}
