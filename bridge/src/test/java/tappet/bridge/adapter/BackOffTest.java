package tappet.bridge.adapter;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Common practice, no source. */
class BackOffTest {

  @ParameterizedTest(name = "after {0} tries in vain: {1} ms")
  @CsvSource({"0, 250", "1, 500", "2, 1000", "4, 4000", "5, 5000", "6, 5000", "1000000, 5000"})
  void restDoublesUpToTheLongest(int failures, long restMs) {
    assertEquals(restMs * 1_000_000, BackOff.USUAL.restNs(failures));
  }

  @ParameterizedTest(name = "from {0} ms to {1} ms")
  @CsvSource({"0, 10", "-1, 10", "11, 10"})
  void restThatIsNoneOrShrinksIsRefused(long firstMs, long longestMs) {
    assertThrows(
        IllegalArgumentException.class,
        () -> new BackOff(Duration.ofMillis(firstMs), Duration.ofMillis(longestMs)));
  }

  @Test
  void restMayStayTheSame() {
    Duration second = Duration.ofSeconds(1);

    assertEquals(second.toNanos(), new BackOff(second, second).restNs(7));
  }
}
