package tappet.interlocking;

import tappet.layout.LockState;
import tappet.layout.Position;

/** One thing that the field is to do. */
public sealed interface Output {

  /** A signal is to show an aspect from now on. */
  record Show(String signal, String aspect) implements Output {}

  /**
   * A signal's lights are to be out from now on, whatever it means behind them, since no train can
   * see them.
   */
  record Dark(String signal) implements Output {}

  /** An electric lock is to let a switch go, or to hold it. */
  record Lock(String switchId, LockState state) implements Output {}

  /** A switch is to move to a position, or to stay there. */
  record Throw(String switchId, Position position) implements Output {}

  /** Something that a device which is neither switch nor signal is to do. */
  sealed interface OfLineside extends Output {}

  /** A lamp is to be lit, or dark, from now on. */
  record Light(String lamp, boolean lit) implements OfLineside {}

  /** A grade crossing is to warn, or to rest, from now on. */
  record Warn(String crossing, boolean warns) implements OfLineside {}

  /** The bolt of an opening is to go home, or to be drawn. */
  record Bolt(String opening, boolean locked) implements OfLineside {}
}
