package tappet.bridge.health;

import java.util.LinkedHashMap;
import java.util.Map;
import tappet.bridge.box.SignalBox;

/**
 * What the box has said of itself.
 *
 * @param ready whether its node may speak on the bus
 * @param failed whether the interlocking has failed
 * @param alarms how many stand
 * @param connections those that there have been, and whether each is up
 */
record Pulse(boolean ready, boolean failed, int alarms, Map<String, Boolean> connections) {

  /** Taken on the box's thread. */
  static Pulse of(SignalBox box) {
    return new Pulse(
        box.ready(), box.hasFailed(), box.alarms().size(), new LinkedHashMap<>(box.connections()));
  }
}
