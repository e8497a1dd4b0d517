package tappet.bridge.soak;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.util.concurrent.TimeUnit;
import tappet.bridge.JavaProcess;

/**
 * A client that only listens. Hostile nodes number their event reports, so it knows whether the hub
 * copies each frame once and in order.
 */
final class Overhearer extends FrameStream {

  private long heard;
  private long lastNumber;

  Overhearer(InetSocketAddress hub) throws IOException {
    super(hub);
    listen();
  }

  @Override
  synchronized void heard(String header, String data) {
    heard++;
    if (header.startsWith("195B4") && data.startsWith(HostileNodes.NUMBERED)) {
      long number = Long.parseLong(data.substring(HostileNodes.NUMBERED.length()), 16);
      if (number != lastNumber + 1) {
        fault("report " + number + " came after " + lastNumber);
      }
      lastNumber = number;
      notifyAll();
    }
  }

  /** Waits until it has heard the report of this number. */
  synchronized void awaitNumber(long number) throws InterruptedException {
    long endNs = System.nanoTime() + JavaProcess.PATIENCE.toNanos();
    while (lastNumber < number) {
      long leftMs = TimeUnit.NANOSECONDS.toMillis(endNs - System.nanoTime());
      if (leftMs <= 0 || hungUp()) {
        throw new AssertionError("report " + number + " never came, the last was " + lastNumber);
      }
      wait(leftMs);
    }
  }

  synchronized long heardCount() {
    return heard;
  }
}
