package tappet.bridge.node;

import java.util.List;
import tappet.lcc.CanFrame;
import tappet.lcc.EventId;
import tappet.lcc.EventRange;
import tappet.lcc.clock.ClockEvent;
import tappet.lcc.clock.ClockId;

/**
 * A clock that a layout may have (S-9.7.4.5 §4).
 *
 * @param word what owners call it in their files
 * @param called what people are told it is, with its article
 */
public record FastClock(String word, String called, ClockId id) {

  public static final FastClock FAST =
      new FastClock("fast", "the fast clock", ClockId.DEFAULT_FAST);
  public static final FastClock ALTERNATE_1 =
      new FastClock("alternate-1", "alternate clock 1", ClockId.ALTERNATE_1);
  public static final FastClock ALTERNATE_2 =
      new FastClock("alternate-2", "alternate clock 2", ClockId.ALTERNATE_2);

  private static final List<FastClock> ALL = List.of(FAST, ALTERNATE_1, ALTERNATE_2);

  /** The words of owners' files, in order. */
  public static List<String> words() {
    return ALL.stream().map(FastClock::word).toList();
  }

  /** The clock of a word that is one of {@link #words}. */
  public static FastClock of(String word) {
    return ALL.get(words().indexOf(word));
  }

  EventRange range() {
    return id.range();
  }

  EventId event(ClockEvent event) {
    return id.event(event);
  }

  /** Whether a frame may be about this clock; nearly all traffic ends here. */
  boolean concerns(CanFrame frame) {
    return frame.length() == CanFrame.LENGTH_MAX && id.upper().value() == frame.data() >>> 16;
  }
}
