package tappet.bridge.box;

import tappet.interlocking.Step;
import tappet.lcc.CanFrame;

/** Hears what goes on in the box, on the box's thread; must not block. */
public interface BoxListener {

  /** A frame has come in by a connection. */
  default void frameHeard(String origin, CanFrame frame) {}

  /** The daemon's node has sent a frame. */
  default void frameSent(CanFrame frame) {}

  /** The interlocking has taken a step, which has not been carried out yet. */
  default void stepped(Step step) {}

  /** Something has changed, in the owner's words. */
  default void changed(String what) {}

  /** An alarm has come up. */
  default void alarmRaised(String what) {}

  /** An alarm has gone. */
  default void alarmCleared(String what) {}
}
