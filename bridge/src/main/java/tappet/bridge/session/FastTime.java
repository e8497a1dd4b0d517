package tappet.bridge.session;

import java.util.OptionalInt;

/** Follows the fast clock from day to day. */
final class FastTime {

  private static final int MINUTES_A_DAY = 24 * 60;

  private int lastMinuteOfDay = -1;
  private long minutes;
  private int beganAt;

  /**
   * Sees what the clock shows; one that is not known stands still. One that is set was set the
   * shorter way: back by up to half a day, or ahead.
   */
  void follow(OptionalInt minuteOfDay) {
    if (minuteOfDay.isEmpty()) {
      return;
    }
    if (lastMinuteOfDay < 0) {
      beganAt = minuteOfDay.getAsInt();
    } else {
      int ahead = Math.floorMod(minuteOfDay.getAsInt() - lastMinuteOfDay, MINUTES_A_DAY);
      minutes += ahead < MINUTES_A_DAY / 2 ? ahead : ahead - MINUTES_A_DAY;
    }
    lastMinuteOfDay = minuteOfDay.getAsInt();
  }

  /** Whether it has been seen at all. */
  boolean isKnown() {
    return lastMinuteOfDay >= 0;
  }

  /** The minutes since it was first seen; negative where it has been set back to before. */
  long minutes() {
    return minutes;
  }

  /** When it next shows a time of day, counted from when it was first seen. */
  long firstAt(int minuteOfDay) {
    return Math.floorMod(minuteOfDay - beganAt, MINUTES_A_DAY);
  }

  /** What it shows then: {@code 06:10}, and the day where it is not the first. */
  String words(long minutesSince) {
    long all = minutesSince + beganAt;
    long day = Math.floorDiv(all, MINUTES_A_DAY);
    int minuteOfDay = Math.floorMod(all, MINUTES_A_DAY);
    String time = "%02d:%02d".formatted(minuteOfDay / 60, minuteOfDay % 60);
    return day == 0 ? time : time + " of day " + (day + 1);
  }
}
