package tappet.bridge.record;

import tappet.lcc.CanFrame;

/**
 * A frame and when it passed.
 *
 * @param timeUs microseconds since 1970-01-01 00:00 UTC, 0 or more
 * @param frame the frame
 */
public record LoggedFrame(long timeUs, CanFrame frame) {

  public LoggedFrame {
    if (timeUs < 0) {
      throw new IllegalArgumentException("time " + timeUs + " us, expected 0 or more");
    }
  }
}
