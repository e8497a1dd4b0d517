package tappet.bridge.session;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class FastTimeTest {

  private final FastTime clock = new FastTime();

  private void shows(int hour, int minute) {
    clock.follow(OptionalInt.of(60 * hour + minute));
  }

  @Test
  void itGoesOnOverMidnight() {
    shows(23, 30);
    shows(0, 10);
    assertEquals(40, clock.minutes());
    assertEquals("00:10 of day 2", clock.words(clock.minutes()));
  }

  @Test
  void setBackItShowsTheSameDayAgain() {
    shows(6, 0);
    shows(10, 0);
    shows(9, 59);
    assertEquals(239, clock.minutes());
    assertEquals("09:59", clock.words(clock.minutes()));
    shows(5, 59);
    assertEquals(-1, clock.minutes());
    assertEquals("05:59", clock.words(clock.minutes()));
  }

  @Test
  void whileItIsNotKnownItStands() {
    shows(6, 0);
    clock.follow(OptionalInt.empty());
    assertEquals(0, clock.minutes());
    shows(6, 5);
    assertEquals(5, clock.minutes());
  }
}
