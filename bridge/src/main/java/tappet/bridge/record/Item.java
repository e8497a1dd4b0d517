package tappet.bridge.record;

import java.time.LocalDateTime;
import java.util.Optional;
import tappet.bridge.node.ClockPlan;
import tappet.lcc.AliasSeed;
import tappet.lcc.CanFrame;
import tappet.lcc.NodeId;

/**
 * One thing that the box took in or said. Frames are lines of a log that CAN tools read; all else
 * is a remark to them.
 */
public sealed interface Item {

  /** A frame that came in, by the connection that {@link From} told last. */
  record Heard(CanFrame frame) implements Item {}

  /** A frame that the daemon's node sent. */
  record Sent(CanFrame frame) implements Item {}

  /**
   * The box has begun: all that it knew then.
   *
   * @param version of Tappet
   * @param layout the layout's name
   * @param node the daemon's own node
   * @param seed where it stood in its row of aliases
   * @param clock what clock the layout has
   * @param protections who was protected from before, as the text that is kept
   */
  record Started(
      String version,
      String layout,
      NodeId node,
      AliasSeed seed,
      ClockPlan clock,
      String protections)
      implements Item {}

  /** The frames that follow came by this connection. */
  record From(String connection) implements Item {}

  /**
   * A connection has come up.
   *
   * @param asked whether the owner's settings ask for it
   */
  record Up(String connection, boolean asked) implements Item {}

  /** A connection has come up that is only heard. */
  record Overheard(String connection) implements Item {}

  /**
   * A connection has gone.
   *
   * @param missed whether its absence is an alarm even if nothing came by it
   */
  record Down(String connection, String why, boolean missed) implements Item {}

  /** The box was overrun: nothing that it knew could be trusted any more. */
  record InputLost() implements Item {}

  /**
   * A person asked for something.
   *
   * @param number tells its answer, which may come later
   * @param who asked
   * @param at date and time where the railroad stands, if known
   */
  record Told(long number, String who, Optional<LocalDateTime> at, String sentence)
      implements Item {}

  /** What the person was told. */
  record Answered(long number, boolean granted, String words) implements Item {}

  /**
   * The store of protections was done with what it was given last.
   *
   * @param whyNot why it could not be kept; empty if it was
   */
  record Kept(Optional<String> whyNot) implements Item {}

  /**
   * Other files took the place of those that ran.
   *
   * @param files what tells them from all others
   */
  record Exchanged(String files) implements Item {}

  /** So many things could not be written down. */
  record Missing(long count) implements Item {}

  /** The box ended, in order. */
  record Ended() implements Item {}
}
