package tappet.lcc.clock;

import java.util.Optional;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.NodeId;

/**
 * Which clock it is: the upper six bytes of all its events (S-9.7.4.5 §4).
 *
 * @param upper one of those below, or an id that the clock's owner controls
 */
public record ClockId(NodeId upper) {

  public static final ClockId DEFAULT_FAST = new ClockId(NodeId.of("01.01.00.00.01.00"));
  public static final ClockId DEFAULT_REAL_TIME = new ClockId(NodeId.of("01.01.00.00.01.01"));
  public static final ClockId ALTERNATE_1 = new ClockId(NodeId.of("01.01.00.00.01.02"));
  public static final ClockId ALTERNATE_2 = new ClockId(NodeId.of("01.01.00.00.01.03"));

  private static final int CODE_BITS = 16;
  private static final int CODE_MASK = 0xFFFF;

  /** The event of this clock that says so. */
  public EventId event(ClockEvent event) {
    return new EventId(upper.value() << CODE_BITS | event.code());
  }

  /** What an event says of this clock; empty if it is of another, or reserved. */
  public Optional<ClockEvent> read(EventId event) {
    return event.allocatedBy().equals(upper)
        ? ClockEvent.decode((int) event.value() & CODE_MASK)
        : Optional.empty();
  }

  /** All 65536 events of the clock. */
  public EventRange range() {
    return EventRange.of(upper);
  }
}
