package tappet.bridge.pages;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Who has tried wrong PINs. After a few from one address it has to wait, and longer each time; so
 * has everybody when many addresses try. Who has tried none for longer than the longest wait begins
 * anew.
 */
final class Guesses {

  /** So many are free. */
  static final int FREE = 5;

  /** All addresses together. */
  static final int FREE_OF_ALL = 40;

  static final Duration FIRST_WAIT = Duration.ofSeconds(30);
  static final Duration LONGEST_WAIT = Duration.ofMinutes(15);
  private static final int ADDRESSES_MAX = 500;
  private static final int DOUBLINGS_MAX = 10;

  private static final class Wrong {
    private final int free;
    private int count;
    private long lastNs;
    private long freeAtNs;

    Wrong(int free) {
      this.free = free;
    }

    void count(long nowNs) {
      if (nowNs - lastNs > LONGEST_WAIT.toNanos()) {
        count = 0;
      }
      lastNs = nowNs;
      count++;
      if (count >= free) {
        freeAtNs = nowNs + waitAfter(count - free).toNanos();
      }
    }

    private static Duration waitAfter(int doublings) {
      Duration wait = FIRST_WAIT.multipliedBy(1L << Math.min(DOUBLINGS_MAX, doublings));
      return wait.compareTo(LONGEST_WAIT) > 0 ? LONGEST_WAIT : wait;
    }

    long leftNs(long nowNs) {
      return count < free ? 0 : freeAtNs - nowNs;
    }
  }

  private final Wrong ofAll = new Wrong(FREE_OF_ALL);
  private final Map<String, Wrong> byAddress = new LinkedHashMap<>();

  /** How long an address must wait before it may try; zero where it need not. */
  Duration wait(String address, long nowNs) {
    Wrong wrong = byAddress.get(address);
    long ownNs = wrong == null ? 0 : wrong.leftNs(nowNs);
    return Duration.ofNanos(Math.max(0, Math.max(ofAll.leftNs(nowNs), ownNs)));
  }

  /** How many tries are left before an address has to wait. */
  int triesLeft(String address) {
    Wrong wrong = byAddress.get(address);
    return Math.max(0, FREE - (wrong == null ? 0 : wrong.count));
  }

  void wrong(String address, long nowNs) {
    if (byAddress.size() >= ADDRESSES_MAX && !byAddress.containsKey(address)) {
      byAddress.remove(byAddress.keySet().iterator().next());
    }
    byAddress.computeIfAbsent(address, none -> new Wrong(FREE)).count(nowNs);
    ofAll.count(nowNs);
  }

  void right(String address) {
    byAddress.remove(address);
  }
}
