package tappet.interlocking;

import tappet.layout.LockState;
import tappet.layout.Position;

/** One thing that the field is to do. */
public sealed interface Output {

  /** A signal is to show an aspect from now on. */
  record Show(String signal, String aspect) implements Output {}

  /** An electric lock is to let a switch go, or to hold it. */
  record Lock(String switchId, LockState state) implements Output {}

  /** A switch is to move to a position, or to stay there. */
  record Throw(String switchId, Position position) implements Output {}
}
