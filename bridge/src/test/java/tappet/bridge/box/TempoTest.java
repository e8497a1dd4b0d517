package tappet.bridge.box;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** However slow the machine: what has gone by lies between what surely and what at most has. */
class TempoTest {

  private static final long REST_NS = TimeUnit.MILLISECONDS.toNanos(5);
  private static final long US = TimeUnit.MICROSECONDS.toNanos(1);

  @ParameterizedTest
  @ValueSource(ints = {1, 30, Tempo.SPEED_MAX})
  void timeGoesByAsManyTimesFaster(int speed) {
    Tempo tempo = Tempo.times(speed);
    long outerNs = System.nanoTime();
    long firstNs = tempo.nowNs();
    long innerNs = System.nanoTime();
    LockSupport.parkNanos(REST_NS);
    long leastNs = System.nanoTime() - innerNs;
    long goneByNs = tempo.nowNs() - firstNs;
    long mostNs = System.nanoTime() - outerNs;
    assertTrue(goneByNs >= leastNs * speed - US, () -> goneByNs + " of at least " + leastNs);
    assertTrue(goneByNs <= mostNs * speed + US, () -> goneByNs + " of at most " + mostNs);
    assertEquals(0, firstNs % US);
  }

  @Test
  void momentIsWaitedForInRealTime() {
    Tempo tempo = Tempo.times(30);
    long second = TimeUnit.SECONDS.toNanos(1);
    long waitNs = tempo.waitNs(tempo.nowNs() + second);
    assertTrue(waitNs <= second / 30, () -> waitNs + " ns");
    assertEquals(0, tempo.waitNs(tempo.nowNs() - 1));
    assertEquals(second / 30, tempo.realNs(second));
  }

  @Test
  void realTimeIsNoSpeed() {
    assertSame(Tempo.REAL, Tempo.times(1));
  }

  @ParameterizedTest
  @ValueSource(ints = {-1, 0, Tempo.SPEED_MAX + 1})
  void otherSpeedsAreRefused(int speed) {
    assertThrows(IllegalArgumentException.class, () -> Tempo.times(speed));
  }
}
