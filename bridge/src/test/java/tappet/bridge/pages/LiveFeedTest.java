package tappet.bridge.pages;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import org.junit.jupiter.api.Test;

/** When pages hear that the daemon is still there. Common practice, no source. */
class LiveFeedTest {

  private static final long SAID_MS = 1_795_716_000_000L;

  @Test
  void silenceIsNoLongerThanItMayBeWhateverTheClockIsSetTo() {
    long soonMs = SAID_MS + LiveFeed.SILENCE_MAX_MS - 1;
    assertFalse(LiveFeed.hasPassed(LiveFeed.SILENCE_MAX_MS, SAID_MS, soonMs));
    assertTrue(LiveFeed.hasPassed(LiveFeed.SILENCE_MAX_MS, SAID_MS, soonMs + 1));
    for (long jumpMs : new long[] {Duration.ofDays(1).toMillis(), -Duration.ofDays(1).toMillis()}) {
      assertTrue(LiveFeed.hasPassed(LiveFeed.SILENCE_MAX_MS, SAID_MS, SAID_MS + jumpMs));
    }
  }
}
