package tappet.bridge.rehearsal;

import java.util.Optional;
import tappet.interlocking.Step;
import tappet.layout.Layout;
import tappet.network.Network;
import tappet.network.Variable;

/** Looks on while one scenario runs, and says what is wrong. */
@FunctionalInterface
public interface Onlooker {

  /** Sees nothing. */
  Onlooker NONE = (step, nowNs) -> Optional.empty();

  /**
   * Sets watches on the network of the interlocking.
   *
   * @return the network with what watches it, and nothing changed
   */
  default Network over(Layout layout, Network network) {
    return network;
  }

  /** A variable of that network has become true or false. */
  default void changed(Variable variable, boolean value) {}

  /** The railroad is about to be switched on. */
  default void begins(VirtualRailroad railroad) {}

  /** A person is about to tell the box something. */
  default void tells(String sentence, long nowNs) {}

  /**
   * The interlocking has taken a step.
   *
   * @param step what it brought about
   * @param nowNs when, in nanoseconds of the railroad's time
   * @return what is wrong, which ends the scenario; empty where all is well
   */
  Optional<String> stepped(Step step, long nowNs);
}
