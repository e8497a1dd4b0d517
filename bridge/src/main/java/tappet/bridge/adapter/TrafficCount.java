package tappet.bridge.adapter;

import java.util.concurrent.atomic.LongAdder;
import tappet.bridge.hub.Traffic;

/** Counts what goes through a line; may be read from any thread. */
final class TrafficCount {

  final LongAdder framesIn = new LongAdder();
  final LongAdder framesOut = new LongAdder();
  final LongAdder malformed = new LongAdder();
  final LongAdder skippedBytes = new LongAdder();
  final LongAdder ignored = new LongAdder();
  final LongAdder refused = new LongAdder();

  Traffic read() {
    return new Traffic(
        framesIn.sum(),
        framesOut.sum(),
        malformed.sum(),
        skippedBytes.sum(),
        ignored.sum(),
        refused.sum());
  }
}
