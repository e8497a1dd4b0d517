package tappet.bridge.measure;

import java.util.function.IntFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import tappet.lcc.EventId;

/**
 * A railroad to measure reaction by: signals that each drop when a section of their own, which no
 * train runs over, becomes occupied, and clear again when their route is asked for once more.
 *
 * <pre>
 *   west-K --- before-K --- at-K (signal K) --- ahead-K --- east-K       guard-K
 * </pre>
 */
final class SignalsInARow {

  private static final String SECTIONS =
      """
        before-K: {between: [west-K, at-K], length: 2 m, occupied: 0A.58.00.00.00.01.KK.01, clear: 0A.58.00.00.00.01.KK.00}
        ahead-K: {between: [at-K, east-K], length: 2 m, occupied: 0A.58.00.00.00.02.KK.01, clear: 0A.58.00.00.00.02.KK.00}
        guard-K: {between: [g1-K, g2-K], length: 2 m, occupied: 0A.58.00.00.00.03.KK.01, clear: 0A.58.00.00.00.03.KK.00}
      """;

  private static final String SIGNAL =
      """
        s-K: {at: at-K, into: ahead-K, shows: {stop: 0A.58.00.00.00.04.KK.00, approach: 0A.58.00.00.00.04.KK.01}}
      """;

  private static final String ROUTE =
      """
        - {from: s-K, to: east-K, clear: [ahead-K, guard-K], speed: main, release: 200 ms}
      """;

  private static final EventId BEFORE = EventId.of("0A.58.00.00.00.01.00.00");
  private static final EventId AHEAD = EventId.of("0A.58.00.00.00.02.00.00");
  private static final EventId GUARD = EventId.of("0A.58.00.00.00.03.00.00");
  private static final EventId SIGNAL_EVENTS = EventId.of("0A.58.00.00.00.04.00.00");

  private final int signals;

  /**
   * A railroad.
   *
   * @param signals 1 to 255
   */
  SignalsInARow(int signals) {
    this.signals = signals;
  }

  int signals() {
    return signals;
  }

  String layoutText() {
    return "layout: 1\nname: Signals in a row\njoints:\n"
        + each(
            k ->
                "  west-K: [0, Y]\n  at-K: [4, Y]\n  east-K: [8, Y]\n  g1-K: [10, Y]\n  g2-K: [14, Y]\n"
                    .replace("Y", String.valueOf(k)))
        + "sections:\n"
        + each(k -> SECTIONS)
        + "signals:\n"
        + each(k -> SIGNAL);
  }

  String ruleText() {
    return """
        rules: 1
        times: {loss of shunt: %d ms, start: 200 ms}
        aspects: {main: {beyond stop: approach}}
        routes:
        """
            .formatted(LOSS_OF_SHUNT_MS)
        + each(k -> ROUTE);
  }

  /** How long a section must be clear before a route can be asked for, in milliseconds. */
  static final int LOSS_OF_SHUNT_MS = 100;

  private String each(IntFunction<String> pattern) {
    return IntStream.range(0, signals)
        .mapToObj(k -> pattern.apply(k).replace("KK", "%02X".formatted(k)).replace("K", "" + k))
        .collect(Collectors.joining());
  }

  /** What to tell the desk so that a signal clears. */
  String sentence(int signal) {
    return "line s-%d to east-%d".formatted(signal, signal);
  }

  EventId before(int number, boolean isOccupied) {
    return event(BEFORE, number, isOccupied);
  }

  EventId ahead(int number, boolean isOccupied) {
    return event(AHEAD, number, isOccupied);
  }

  EventId guard(int number, boolean isOccupied) {
    return event(GUARD, number, isOccupied);
  }

  EventId shows(int number, boolean proceeds) {
    return event(SIGNAL_EVENTS, number, proceeds);
  }

  /** The number of the signal that an event is for; -1 where it is for none. */
  int signalOf(EventId event) {
    boolean ofSignal = event.value() >> 16 == SIGNAL_EVENTS.value() >> 16;
    return ofSignal ? (int) (event.value() >> 8 & 0xFF) : -1;
  }

  /** Whether a signal's event tells it to proceed. */
  static boolean proceeds(EventId event) {
    return (event.value() & 1) == 1;
  }

  private static EventId event(EventId first, int number, boolean isTrue) {
    return new EventId(first.value() | (long) number << 8 | (isTrue ? 1 : 0));
  }
}
