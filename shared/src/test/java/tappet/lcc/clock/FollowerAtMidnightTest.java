package tappet.lcc.clock;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDateTime;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tappet.lcc.EventId;
import tappet.lcc.clock.ClockEvent.Date;
import tappet.lcc.clock.ClockEvent.Order;
import tappet.lcc.clock.ClockEvent.Rate;
import tappet.lcc.clock.ClockEvent.Report;
import tappet.lcc.clock.ClockEvent.Setting;
import tappet.lcc.clock.ClockEvent.Time;
import tappet.lcc.clock.ClockEvent.Year;

/** A follower that is a moment ahead or behind when a time is reported across midnight. */
class FollowerAtMidnightTest {

  private static final ClockId CLOCK = ClockId.DEFAULT_FAST;
  private static final ClockVoice SILENT =
      new ClockVoice() {
        @Override
        public void report(EventId event) {}

        @Override
        public void identify(EventId event) {}
      };

  // S-9.7.4.5 §6.2: reports put the clock right; a day is not lost or won by a moment.
  @ParameterizedTest
  @CsvSource({
    "  4, 23:59, 59, 00:00, 1953-10-04T00:00",
    "  4, 23:59, 61, 23:59, 1953-10-03T23:59",
    " -4, 00:01, 61, 00:00, 1953-10-03T00:00",
    " -4, 00:01, 59, 23:59, 1953-10-02T23:59",
    "  4, 08:00,  1, 23:00, 1953-10-03T23:00",
  })
  void timeReportedJustAcrossMidnightIsOfTheDayOverThere(
      int quarters, String before, int seconds, String reported, LocalDateTime now) {
    var follower = new ClockFollower(CLOCK, SILENT);
    hear(follower, new Year(1953), 0);
    hear(follower, new Date(10, 3), 0);
    hear(follower, new Rate(quarters), 0);
    hear(follower, time(before), 0);
    follower.eventReported(CLOCK.event(Order.START), 0);
    long nowNs = seconds * 1_000_000_000L;
    hear(follower, time(reported), nowNs);
    assertEquals(now, follower.now(nowNs).orElseThrow().time());
  }

  private static Time time(String clock) {
    String[] parts = clock.split(":", 2);
    return new Time(Integer.parseInt(parts[0]), Integer.parseInt(parts[1]));
  }

  private static void hear(ClockFollower follower, Setting setting, long nowNs) {
    follower.eventReported(CLOCK.event(new Report(setting)), nowNs);
  }
}
