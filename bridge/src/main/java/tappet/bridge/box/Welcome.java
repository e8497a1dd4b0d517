package tappet.bridge.box;

import java.util.OptionalLong;
import java.util.function.LongConsumer;

/**
 * Tells everybody what visitors have to know. They may join many times a second, as over a radio
 * link that comes and goes, and must not fill the bus by it: whoever joins is told at once, or when
 * a second has passed since somebody was.
 */
final class Welcome {

  static final long REST_NS = 1_000_000_000L;

  private final LongConsumer tell;
  private OptionalLong toldNs = OptionalLong.empty();
  private boolean isOwed;

  /**
   * @param tell tells it; takes the time
   */
  Welcome(LongConsumer tell) {
    this.tell = tell;
  }

  /** Somebody has joined whom nobody asked for. */
  void visitorJoined(long nowNs) {
    isOwed = true;
    advance(nowNs);
  }

  void advance(long nowNs) {
    if (isOwed && (toldNs.isEmpty() || nowNs - toldNs.getAsLong() >= REST_NS)) {
      isOwed = false;
      toldNs = OptionalLong.of(nowNs);
      tell.accept(nowNs);
    }
  }

  /** When {@link #advance} is next needed. */
  OptionalLong deadlineNs() {
    return isOwed ? OptionalLong.of(toldNs.orElseThrow() + REST_NS) : OptionalLong.empty();
  }
}
