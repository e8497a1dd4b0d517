package tappet.bridge.node;

import tappet.lcc.Message;
import tappet.lcc.Validity;
import tappet.lcc.clock.ClockEvent;

/** Tells what only the generator of a clock says from what anybody may say. */
final class GeneratorWord {

  private GeneratorWord() {}

  /** Whether it is a report of a clock's value, or tells its state (S-9.7.4.5 §6.2, §6.3). */
  static boolean isOne(Message message, FastClock clock) {
    if (message instanceof Message.EventReport report) {
      return clock
          .id()
          .read(report.event())
          .filter(ClockEvent.Report.class::isInstance)
          .isPresent();
    }
    return message instanceof Message.ProducerIdentified identified
        && identified.validity() == Validity.VALID
        && clock.id().read(identified.event()).isPresent();
  }
}
