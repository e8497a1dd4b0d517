package tappet.bridge.box;

import java.util.Optional;
import tappet.interlocking.Step;
import tappet.lcc.CanFrame;

/**
 * Hears what goes on in the box, on the box's thread; must not block. Times are the box's own, in
 * nanoseconds: who writes down all that is told with a time can have another box live through it.
 */
public interface BoxListener {

  /** The box has begun. */
  default void started(long nowNs) {}

  /** The box ends, in order. */
  default void stopped(long nowNs) {}

  /** A connection has come up; see {@link SignalBox#connectionUp}. */
  default void connectionUp(String name, boolean asked, long nowNs) {}

  /** A connection has come up that is only heard; see {@link SignalBox#overheard}. */
  default void overheard(String name, long nowNs) {}

  /** A connection has gone; see {@link SignalBox#connectionDown}. */
  default void connectionDown(String name, String why, boolean missed, long nowNs) {}

  /** Something that came in was lost. */
  default void inputLost(long nowNs) {}

  /**
   * The store of protections is done with what it was given last.
   *
   * @param whyNot why it could not be kept; empty if it is
   */
  default void kept(Optional<String> whyNot, long nowNs) {}

  /** A frame has come in by a connection. */
  default void frameHeard(String origin, CanFrame frame, long nowNs) {}

  /** The daemon's node has sent a frame. */
  default void frameSent(CanFrame frame, long nowNs) {}

  /** The interlocking has taken a step, which has not been carried out yet. */
  default void stepped(Step step) {}

  /**
   * Another interlocking has taken over.
   *
   * @param files what tells the files it is made of from all others
   */
  default void exchanged(String files, long nowNs) {}

  /** Something has changed, in the owner's words. */
  default void changed(String what) {}

  /** An alarm has come up. */
  default void alarmRaised(String what) {}

  /** An alarm has gone. */
  default void alarmCleared(String what) {}
}
