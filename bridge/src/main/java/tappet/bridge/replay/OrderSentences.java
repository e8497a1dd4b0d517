package tappet.bridge.replay;

import static tappet.bridge.replay.FieldSentences.name;

import java.util.Optional;
import tappet.interlocking.Output;

/** What the box tells the field, as the expectations of scenarios. */
final class OrderSentences {

  /**
   * What is so once an order has been carried out.
   *
   * @param device the device that the order is for
   */
  record Expected(String device, String sentence) {}

  private OrderSentences() {}

  /**
   * What is expected of an order. Of a switch it is that it comes to report where it was sent,
   * which the recording tells itself; a signal that goes dark has no sentence.
   */
  static Optional<Expected> of(Output output) {
    if (output instanceof Output.Show show) {
      return of("signal " + name(show.signal()), " is " + name(show.aspect()));
    }
    if (output instanceof Output.Lock lock) {
      return of("lock of " + name(lock.switchId()), " is " + lock.state().word());
    }
    if (output instanceof Output.Light light) {
      return of("lamp " + name(light.lamp()), light.lit() ? " is lit" : " is not lit");
    }
    if (output instanceof Output.Warn warn) {
      return of(
          "grade crossing " + name(warn.crossing()),
          warn.warns() ? " is warning" : " is not warning");
    }
    if (output instanceof Output.Bolt bolt) {
      return of("opening " + name(bolt.opening()), bolt.locked() ? " is locked" : " is unlocked");
    }
    return Optional.empty();
  }

  private static Optional<Expected> of(String device, String is) {
    return Optional.of(new Expected(device, device + is));
  }
}
