package tappet.bridge.measure;

import java.util.concurrent.TimeUnit;
import org.HdrHistogram.ConcurrentHistogram;
import org.HdrHistogram.Histogram;

/** How long answers took, in nanoseconds, with three digits of precision. */
final class Latencies {

  private static final long LONGEST_NS = TimeUnit.SECONDS.toNanos(60);

  private final Histogram histogram = new ConcurrentHistogram(LONGEST_NS, 3);

  void note(long latencyNs) {
    histogram.recordValue(Math.min(Math.max(latencyNs, 0), LONGEST_NS));
  }

  long count() {
    return histogram.getTotalCount();
  }

  /** In microseconds. */
  double us(double percentile) {
    return histogram.getValueAtPercentile(percentile) / 1e3;
  }

  @Override
  public String toString() {
    return "p50 %,.0f µs, p99 %,.0f µs, p99.9 %,.0f µs, max %,.0f µs of %,d"
        .formatted(us(50), us(99), us(99.9), us(100), count());
  }
}
