package tappet.bridge.field;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tappet.interlocking.Input;
import tappet.layout.Board;
import tappet.layout.Layout;
import tappet.layout.Switch;

/**
 * The switches that no board reports: what is assumed of them is forgotten as soon as an order may
 * have been lost.
 */
final class Undetected {

  private final List<String> switches;

  Undetected(Layout layout) {
    switches =
        layout.switches().values().stream()
            .filter(toe -> !toe.isDetected())
            .map(Switch::id)
            .toList();
  }

  /** Nothing is known of any of them. */
  Stream<Input> forgetAll() {
    return switches.stream().map(Undetected::forget);
  }

  /** Nothing is known of those that a board carries. */
  Stream<Input> forget(Board board) {
    return board.switches().stream().filter(switches::contains).map(Undetected::forget);
  }

  private static Input forget(String id) {
    return new Input.SwitchReport(id, Optional.empty());
  }
}
