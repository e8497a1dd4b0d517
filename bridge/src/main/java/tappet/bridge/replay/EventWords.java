package tappet.bridge.replay;

import java.util.Optional;
import java.util.function.Function;
import tappet.layout.Layout;
import tappet.lcc.EventId;

/** What events mean, in the owner's words. */
public final class EventWords {

  private EventWords() {}

  /**
   * What the events mean by which a layout's devices report, and those by which they are told;
   * empty for any other.
   */
  public static Function<EventId, Optional<String>> of(Layout layout) {
    FieldSentences reports = new FieldSentences(layout);
    Spoken orders = new Spoken(layout);
    return event ->
        reports.of(event).map(FieldSentences.Told::sentence).or(() -> order(event, orders));
  }

  private static Optional<String> order(EventId event, Spoken orders) {
    return orders.isOrder(event)
        ? Optional.of(orders.of(event).device() + " is told " + orders.of(event).what())
        : Optional.empty();
  }
}
